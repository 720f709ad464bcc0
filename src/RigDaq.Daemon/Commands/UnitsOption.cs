using System.CommandLine;
using RigDaq.App.Configuration;
using RigDaq.App.Input;
using RigDaq.Core.Quantities;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>The units of what a person reads: the configuration's, or those of this one command. Machines are told SI always.</summary>
internal static class UnitsOption
{
    public static readonly Option<string?> Units = new("--units")
    {
        Description = TerminalText.OptionUnits,
        HelpName = "UNITS",
        Recursive = true,
    };

    /// <summary>The units in force for a command.</summary>
    /// <param name="parsed">Its command line.</param>
    /// <param name="configFile">Its configuration file; null for the environment alone.</param>
    /// <exception cref="InputException">A unit is not known, or the configuration is wrong.</exception>
    public static Units Of(ParseResult parsed, string? configFile = null)
    {
        UnitChoice choice = OptionsReader.Read(configFile, CommandPlace.Settings).Units;
        Apply(parsed, choice);
        return choice.Units;
    }

    /// <summary>What this command line says goes over what was configured.</summary>
    /// <exception cref="InputException">A unit is not known.</exception>
    public static void Apply(ParseResult parsed, UnitChoice choice)
    {
        if (parsed.GetValue(Units) is not { } wanted) return;
        foreach (string symbol in wanted.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            if (!choice.Set(symbol))
                throw new InputException(TerminalText.OptionUnitNotKnown(symbol));
        }
    }
}
