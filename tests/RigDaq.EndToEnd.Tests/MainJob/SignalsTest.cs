using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive;
using RigDaq.Core.Pulls;
using RigDaq.Daemon.Commands;
using RigDaq.EndToEnd.Tests.Support;
using RigDaq.Tests.Shared;

namespace RigDaq.EndToEnd.Tests.MainJob;

/// <summary>How the program ends, and what a terminal that takes nothing more does to it.</summary>
public sealed partial class SignalsTest
{
    private static readonly TimeSpan Bound = TimeSpan.FromSeconds(60);

    [Theory]
    [InlineData("-HUP")]
    [InlineData("-TERM")]
    public async Task A_terminal_that_goes_ends_the_pull_and_the_program_in_order(string signal)
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Windows has no such signal.");
        Assert.SkipWhen(signal == "-HUP" && HangUp.IsIgnored(),
            "The tests were started to outlive their terminal (nohup), and so is the program.");
        using var folder = new TemporaryFolder();
        await using (RunningDemo demo = await RunningDemo.StartAsync(folder.Path, "--breaks", "3", "--time-scale", "8"))
        {
            await InMidPullAsync(demo);
            await demo.Process.SignalAsync(signal);
            Assert.Equal(0, await demo.Process.ExitAsync(Bound));
        }

        using var archive = new RigArchive(folder.Path, TimeProvider.System, NullLogger.Instance);
        // Stored by the program itself: nothing was left for the next start to find.
        Assert.Empty(archive.Captures.FindUnfinished());
        Assert.Contains(archive.Runs.Latest(10), run => run.Ending == PullEnding.Interrupted);
    }

    [Fact]
    public async Task A_standard_error_that_nobody_reads_does_not_hold_up_the_stop()
    {
        Assert.SkipUnless(File.Exists("/bin/sh"), "Needs a shell.");
        using var folder = new TemporaryFolder();
        string fifo = folder["stderr"];
        using (Process made = Process.Start("mkfifo", fifo)) await made.WaitForExitAsync(TestContext.Current.CancellationToken);
        // Reads the first words, then nothing any more: as after Ctrl-S in a terminal, or a stopped pager.
        using var shell = new Process { StartInfo = new ProcessStartInfo("/bin/sh") { RedirectStandardOutput = true } };
        string program = Path.Combine(AppContext.BaseDirectory, "rigdaq.dll");
        shell.StartInfo.ArgumentList.Add("-c");
        shell.StartInfo.ArgumentList.Add(
            $"exec 3<>'{fifo}'; RIGDAQ__LOG__LEVEL=debug dotnet '{program}' demo --data '{folder["data"]}' --http 0 --mqtt 0 --time-scale 8 --json 2>&3 & echo $!; wait");
        shell.Start();
        int pid = int.Parse((await shell.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken))!,
            CultureInfo.InvariantCulture);
        try
        {
            string answer = (await shell.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken))!;
            Uri dashboard = new(AddressPattern().Match(answer).Groups[1].Value);
            using var client = new HttpClient { BaseAddress = new Uri(dashboard.GetLeftPart(UriPartial.Authority)) };
            await UntilPullingAsync(client);
            // The rest of the pipe is filled, so that whoever writes to it stands still.
            using Process filler =
                Process.Start("/bin/sh",
                ["-c", $"timeout 2 dd if=/dev/zero of='{fifo}' bs=4096 count=64 oflag=nonblock 2>/dev/null; true"]);
            await filler.WaitForExitAsync(TestContext.Current.CancellationToken);
            long asked = TimeProvider.System.GetTimestamp();
            using HttpResponseMessage stopped = await client.PostAsync(new Uri("/api/stop", UriKind.Relative), null,
                TestContext.Current.CancellationToken);
            TimeSpan took = TimeProvider.System.GetElapsedTime(asked);
            Assert.True(stopped.IsSuccessStatusCode);
            // The device stops by itself 500 ms after the last keep-alive: the stop came before that, and the loop still lives. Wall time,
            // with room for a busy machine.
            Assert.True(took < TimeSpan.FromSeconds(1), $"{took.TotalMilliseconds:0} ms");
            using HttpResponseMessage again = await client.PostAsync(new Uri("/api/stop", UriKind.Relative), null,
                TestContext.Current.CancellationToken);
            Assert.True(again.IsSuccessStatusCode);
            Assert.Contains("held", await HeldAsync(client), StringComparison.Ordinal);
        }
        finally
        {
            using Process target = Process.GetProcessById(pid);
            target.Kill();
            await shell.WaitForExitAsync(CancellationToken.None);
        }
    }

    private static async Task InMidPullAsync(RunningDemo demo)
    {
        using var client = new HttpClient { BaseAddress = new Uri(demo.Dashboard.GetLeftPart(UriPartial.Authority)) };
        await UntilPullingAsync(client);
    }

    private static Task<string> UntilPullingAsync(HttpClient client)
        => StateAsync(client, state => state.Contains("\"stage\":\"pulling\"", StringComparison.Ordinal));

    private static Task<string> HeldAsync(HttpClient client)
        => StateAsync(client, state => state.Contains("\"stage\":\"held\"", StringComparison.Ordinal));

    /// <summary>The state as a page is sent it, once something holds of it.</summary>
    private static async Task<string> StateAsync(HttpClient client, Func<string, bool> holds)
    {
        using var socket = new System.Net.WebSockets.ClientWebSocket();
        socket.Options.SetRequestHeader("Origin", client.BaseAddress!.GetLeftPart(UriPartial.Authority));
        await socket.ConnectAsync(new UriBuilder(client.BaseAddress) { Scheme = "ws", Path = Addresses.Live }.Uri,
            TestContext.Current.CancellationToken);
        var buffer = new byte[1 << 18];
        using var late = new CancellationTokenSource(Bound);
        while (true)
        {
            int length = 0;
            System.Net.WebSockets.ValueWebSocketReceiveResult received;
            do
            {
                received = await socket.ReceiveAsync(buffer.AsMemory(length), late.Token);
                length += received.Count;
            }
            while (!received.EndOfMessage);
            if (received.MessageType != System.Net.WebSockets.WebSocketMessageType.Text) continue;
            string text = System.Text.Encoding.UTF8.GetString(buffer, 0, length);
            if (holds(text)) return text;
        }
    }

    [GeneratedRegex("\"dashboard\": ?\"([^\"]+)\"")]
    private static partial Regex AddressPattern();
}
