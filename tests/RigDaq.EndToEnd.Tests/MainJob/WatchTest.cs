using System.Diagnostics;
using System.Text.Json;
using RigDaq.EndToEnd.Tests.Support;

namespace RigDaq.EndToEnd.Tests.MainJob;

/// <summary>Watching a running daemon from a terminal: once for a program, drawn in a real pseudo-terminal.</summary>
public sealed class WatchTest
{
    private static readonly TimeSpan Bound = TimeSpan.FromSeconds(60);

    [Fact]
    public async Task A_terminal_shows_what_the_rig_does_and_ends_with_q()
    {
        using var folder = new TemporaryFolder();
        (int status, _, string said) = await RigdaqProcess.RunAsync(Bound, "watch", "--once", "--data", folder.Path);
        Assert.Equal(1, status);
        Assert.Contains("No daemon runs", said, StringComparison.Ordinal);
        await using RunningDemo demo = await RunningDemo.StartAsync(folder.Path, "--breaks", "36");
        (status, string output, _) = await RigdaqProcess.RunAsync(Bound, "watch", "--once", "--json", "--data", folder.Path);
        Assert.Equal(0, status);
        using JsonDocument json = JsonDocument.Parse(output);
        Assert.Equal("kestrel-lane", json.RootElement.GetProperty("rig").GetString());
        Assert.Equal("up", json.RootElement.GetProperty("state").GetProperty("link").GetString());
        Assert.SkipUnless(File.Exists("/usr/bin/script"), "script is not installed (Debian: apt-get install bsdutils).");
        string drawn = await DrawnAsync(folder.Path);
        Assert.Contains("kestrel-lane", drawn, StringComparison.Ordinal);
        Assert.Contains(drawn, letter => letter is > '\u2800' and <= '\u28ff');
    }

    /// <summary>What a terminal of a hundred characters by thirty lines gets until it is full of a picture and q is pressed.</summary>
    private static async Task<string> DrawnAsync(string folder)
    {
        string rigdaq = Path.Combine(AppContext.BaseDirectory, "rigdaq.dll");
        string watch = $"stty cols 100 rows 30; dotnet '{rigdaq}' watch --data '{folder}'";
        var start = new ProcessStartInfo("/usr/bin/script", ["-qec", watch, "/dev/null"])
        { RedirectStandardInput = true, RedirectStandardOutput = true };
        using Process process = Process.Start(start)!;
        var drawn = new System.Text.StringBuilder();
        char[] part = new char[4096];
        using var late = new CancellationTokenSource(Bound);
        bool pressed = false;
        while (await process.StandardOutput.ReadAsync(part, late.Token) is > 0 and int read)
        {
            drawn.Append(part, 0, read);
            if (pressed || drawn.Length < 20_000) continue;
            pressed = true;
            await process.StandardInput.WriteAsync("q".AsMemory(), late.Token);
            await process.StandardInput.FlushAsync(late.Token);
        }

        await process.WaitForExitAsync(late.Token);
        Assert.Equal(0, process.ExitCode);
        return drawn.ToString();
    }
}
