using System.CommandLine;
using System.Globalization;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>Numbers on the command line with a decimal point: the library's own reading takes "5,5" for 55.</summary>
internal static class PercentOption
{
    public static Option<double> Create(string name, double value, string description) => new(name)
    {
        Description = description,
        DefaultValueFactory = _ => value,
        CustomParser = result =>
        {
            string text = result.Tokens.Count == 1 ? result.Tokens[0].Value : "";
            if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double number)) return number;
            result.AddError(TerminalText.OptionNotNumber(name, text));
            return double.NaN;
        },
    };
}
