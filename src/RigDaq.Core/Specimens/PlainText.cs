using System.Globalization;
using System.Text;
using RigDaq.Core.Text;

namespace RigDaq.Core.Specimens;

/// <summary>Text that people give: characters to be read and none to be obeyed. A terminal, a file of pictures or a list of lines would do
/// what a control character says.</summary>
public static class PlainText
{
    /// <summary>Whether a name, or a text of several lines, holds no control characters (Unicode's category Cc).</summary>
    /// <param name="text">The text.</param>
    /// <param name="ofSeveralLines">Whether it may have line ends and tabs.</param>
    public static bool IsPlain(ReadOnlySpan<char> text, bool ofSeveralLines = false)
    {
        foreach (char c in text)
        {
            if (char.IsControl(c) && !(ofSeveralLines && c is ('\n' or '\r' or '\t'))) return false;
        }

        return true;
    }

    /// <summary>The text with its control characters written out, as \u001b.</summary>
    public static string Shown(string text)
    {
        if (IsPlain(text)) return text;
        var shown = new StringBuilder();
        foreach (char c in text)
        {
            if (char.IsControl(c)) shown.Append(CultureInfo.InvariantCulture, $"\\u{(int)c:x4}");
            else shown.Append(c);
        }

        return shown.ToString();
    }

    /// <summary>Refuses a text that is not plain.</summary>
    /// <exception cref="RefusalException">It is not; the message shows it.</exception>
    public static void Require(string text, bool ofSeveralLines = false)
    {
        if (!IsPlain(text, ofSeveralLines)) throw new RefusalException(CoreText.TextNotPlain(Shown(text)));
    }
}
