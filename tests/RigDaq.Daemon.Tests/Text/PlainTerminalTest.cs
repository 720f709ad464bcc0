using RigDaq.Daemon.Terminal;

namespace RigDaq.Daemon.Tests.Text;

public sealed class PlainTerminalTest
{
    [Fact]
    public void Control_characters_are_shown_and_not_done()
    {
        using var written = new StringWriter { NewLine = "\n" };
        using var terminal = new PlainTerminal(written);
        terminal.WriteLine("a\u001b[2Jb\u0007\tc");
        terminal.Write('\u009b');
        terminal.Write("line\n");
        Assert.Equal("a\\u001b[2Jb\\u0007\tc\n\\u009bline\n", written.ToString());
    }
}
