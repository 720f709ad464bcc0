using System.Globalization;
using System.Text;

namespace RigDaq.Daemon.Terminal;

/// <summary>A terminal that gets characters to read and none to obey: what a name from elsewhere brings along (escapes that clear a screen
/// or ring a bell) is shown, not done.</summary>
internal sealed class PlainTerminal(TextWriter terminal) : TextWriter(CultureInfo.InvariantCulture)
{
    public override Encoding Encoding => terminal.Encoding;

    public override void Write(char value)
    {
        if (IsPlain(value)) terminal.Write(value);
        else terminal.Write(Shown(value));
    }

    public override void Write(string? value) => terminal.Write(value is null || value.All(IsPlain) ? value
        : string.Concat(value.Select(c => IsPlain(c) ? c.ToString() : Shown(c))));

    public override void Write(char[] buffer, int index, int count) => Write(new string(buffer, index, count));

    public override void WriteLine(string? value)
    {
        Write(value);
        terminal.WriteLine();
    }

    public override void Flush() => terminal.Flush();

    private static bool IsPlain(char c) => !char.IsControl(c) || c is '\n' or '\r' or '\t';

    private static string Shown(char c) => string.Create(CultureInfo.InvariantCulture, $"\\u{(int)c:x4}");
}
