using System.CommandLine;
using RigDaq.App.Input;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>An option whose number, where there is one, is above 0 and finite.</summary>
internal static class PositiveOption
{
    /// <exception cref="InputException">It is not.</exception>
    public static double? Read(ParseResult parsed, Option<double?> option)
    {
        double? value = parsed.GetValue(option);
        return value is null or (> 0 and < double.PositiveInfinity) ? value
            : throw new InputException(TerminalText.OptionAboveZero(option.Name));
    }

    /// <summary>The same for a number that may be 0.</summary>
    /// <exception cref="InputException">It is below 0, or not finite.</exception>
    public static double? ReadOrZero(ParseResult parsed, Option<double?> option)
    {
        double? value = parsed.GetValue(option);
        return value is null or (>= 0 and < double.PositiveInfinity) ? value
            : throw new InputException(TerminalText.OptionNotBelowZero(option.Name));
    }
}
