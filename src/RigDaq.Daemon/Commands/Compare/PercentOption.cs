using System.CommandLine;
using System.Globalization;
using RigDaq.App.Input;
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

/// <summary>Decimal numbers on the command line.</summary>
internal static class DecimalText
{
    /// <exception cref="InputException">It is none.</exception>
    public static decimal Read(string option, string text) => decimal.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out decimal value)
        ? value : throw new InputException(TerminalText.OptionNotNumber(option, text));
}
