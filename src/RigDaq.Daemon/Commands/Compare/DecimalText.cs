using System.Globalization;
using RigDaq.App.Input;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>Decimal numbers on the command line.</summary>
internal static class DecimalText
{
    /// <exception cref="InputException">It is none.</exception>
    public static decimal Read(string option, string text) => decimal.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture,
        out decimal value) ? value : throw new InputException(TerminalText.OptionNotNumber(option, text));
}
