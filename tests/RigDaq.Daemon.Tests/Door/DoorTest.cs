using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Net.WebSockets;
using RigDaq.Daemon.Commands;
using RigDaq.Daemon.Door;
using RigDaq.Daemon.Tests.Study;
using RigDaq.Daemon.Tests.Trace;

namespace RigDaq.Daemon.Tests.Door;

/// <summary>The way of commands to the daemon that has their folder: questions and answers, calling off, an end in the middle, and who is
/// kept out.</summary>
[Collection(nameof(PrintedOutput))]
public sealed class DoorTest : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-door-").FullName;
    private readonly TextReader _typed = Console.In;

    public DoorTest()
    {
        using StudyStore store = StudyStore.Open(_folder);
        StudyMakeCommand.Keep(store, StudyCommandsTest.Plan, DateTimeOffset.UnixEpoch);
    }

    public void Dispose()
    {
        Console.SetIn(_typed);
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task What_a_command_asks_is_asked_at_the_terminal_and_what_is_typed_there_answers()
    {
        await using DoorHost daemon = await DoorHost.StartAsync(_folder);
        Console.SetIn(new StringReader("10.02\n4.01\nq\n"));
        (int status, string output, _) = await CommandLine.RunAsync("study", "measure", "fan", "--data", _folder, "--json");
        Assert.Equal(0, status);
        Assert.Contains("\"measured\":1", output, StringComparison.Ordinal);
        Assert.Contains(daemon.Archive.Studies.Find("fan")!.Specimens, s => s.Section?.WidthsMillimetres is [10.02]);
    }

    [Fact]
    public async Task A_terminal_that_goes_away_ends_its_command_and_frees_its_place()
    {
        await using DoorHost daemon = await DoorHost.StartAsync(_folder);
        for (int i = 0; i < DoorServer.CommandsMax + 1; i++)
        {
            var silent = new SilentReader();
            using var away = new CancellationTokenSource();
            Task<int?> asked = DoorClient.RunAsync(_folder, Request("study", "measure", "fan"), Here(silent), away.Token);
            await silent.Asked.WaitAsync(Patience, TestContext.Current.CancellationToken);
            await away.CancelAsync();
            await Assert.ThrowsAnyAsync<OperationCanceledException>(() => asked.WaitAsync(Patience, TestContext.Current.CancellationToken));
            silent.End();
        }

        (int status, _, string said) = await CommandLine.RunAsync("study", "list", "--data", _folder);
        Assert.Equal((0, ""), (status, said));
    }

    [Fact]
    public async Task A_daemon_that_ends_in_the_middle_is_told_of_with_what_to_do()
    {
        var silent = new SilentReader();
        Console.SetIn(silent);
        DoorHost daemon = await DoorHost.StartAsync(_folder);
        Task<(int Status, string Output, string Said)> asked = CommandLine.RunAsync("study", "measure", "fan", "--data", _folder);
        await silent.Asked.WaitAsync(Patience, TestContext.Current.CancellationToken);
        await daemon.DisposeAsync();
        silent.End();
        (int status, _, string said) = await asked.WaitAsync(Patience, TestContext.Current.CancellationToken);
        Assert.Equal(1, status);
        Assert.Contains(RigDaq.Daemon.Text.TerminalText.DoorLost, said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task More_commands_than_there_are_places_wait_and_are_told_so()
    {
        await using DoorHost daemon = await DoorHost.StartAsync(_folder);
        var silent = new SilentReader();
        using var away = new CancellationTokenSource();
        Task<int?>[] talking = [.. Enumerable.Range(0, DoorServer.CommandsMax)
            .Select(_ => DoorClient.RunAsync(_folder, Request("study", "measure", "fan"), Here(silent), away.Token))];
        // They come by sockets, whose threads no test can wait for; each look is cheap.
        while (daemon.Door.Here < DoorServer.CommandsMax) await Task.Delay(10, TestContext.Current.CancellationToken);
        Task<(int Status, string Output, string Said)> further = CommandLine.RunAsync("study", "list", "--data", _folder);
        while (daemon.Door.Here == DoorServer.CommandsMax) await Task.Delay(10, TestContext.Current.CancellationToken);
        silent.End();
        await away.CancelAsync();
        (int status, _, string said) = await further.WaitAsync(Patience, TestContext.Current.CancellationToken);
        Assert.Equal(0, status);
        Assert.Contains(RigDaq.Daemon.Text.TerminalText.DoorWaiting(DoorServer.CommandsMax), said, StringComparison.Ordinal);
        foreach (Task<int?> one in talking) await Assert.ThrowsAnyAsync<OperationCanceledException>(() => one);
    }

    [Fact]
    public async Task A_socket_that_a_killed_daemon_left_is_no_daemon()
    {
        string path = DoorAddress.SocketPaths(_folder).First();
        // Taken out of the way of .NET, which deletes at an orderly end what the kernel leaves at a kill.
        using (DoorSocket.Bind(_folder, out _)) File.Move(path, path + ".left");
        File.Move(path + ".left", path);
        Assert.Null(await DoorClient.RunAsync(_folder, Request("study", "list"), Here(TextReader.Null),
            TestContext.Current.CancellationToken));
        await using DoorHost daemon = await DoorHost.StartAsync(_folder);
        Assert.Equal(0, (await CommandLine.RunAsync("study", "list", "--data", _folder)).Status);
    }

    [Fact]
    public async Task The_network_is_not_let_in()
    {
        await using DoorHost daemon = await DoorHost.StartAsync(_folder);
        using var http = new HttpClient();
        using HttpResponseMessage answer = await http
            .GetAsync(new Uri(daemon.Http, DoorServer.Path), TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
    }

    // unix(7), SO_PEERCRED: the kernel tells who connects; the folder is opened here on purpose, so that this alone keeps others out.
    [Fact]
    public async Task Another_user_is_not_let_in_even_where_the_folder_is_open()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() && Environment.UserName == "root" && File.Exists("/usr/bin/setpriv"),
            "Only root can become another user, by setpriv of util-linux.");
        if (OperatingSystem.IsWindows()) return; // For the analyzer.
        await using DoorHost daemon = await DoorHost.StartAsync(_folder);
        string path = DoorAddress.SocketPaths(_folder).First();
        foreach (string open in new[] { _folder, Path.GetDirectoryName(path)!, path })
            File.SetUnixFileMode(open, (UnixFileMode)0b111_111_111);
        Assert.Equal("101", await AskedAs([]));
        Assert.Equal("", await AskedAs(["/usr/bin/setpriv", "--reuid=65534", "--regid=65534", "--clear-groups"]));

        async Task<string> AskedAs(string[] who)
        {
            string[] command = [.. who, "/usr/bin/python3", "-c", """
                import socket, sys
                s = socket.socket(socket.AF_UNIX); s.settimeout(20); s.connect(sys.argv[1])
                try:
                    s.sendall(b"GET " + sys.argv[2].encode() + b" HTTP/1.1\r\nHost: rigdaq\r\nUpgrade: websocket\r\nConnection: Upgrade\r\n"
                        b"Sec-WebSocket-Version: 13\r\nSec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n\r\n")
                    print(s.recv(12).decode()[9:])
                except OSError:
                    print()
                """, path, DoorServer.Path];
            using Process asking = Process.Start(new ProcessStartInfo(command[0], command[1..]) { RedirectStandardOutput = true })!;
            string said = await asking.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
            await asking.WaitForExitAsync(TestContext.Current.CancellationToken);
            return said.Trim();
        }
    }

    [Fact]
    public async Task More_than_may_wait_are_sent_away()
    {
        await using DoorHost daemon = await DoorHost.StartAsync(_folder);
        var silent = new SilentReader();
        using var away = new CancellationTokenSource();
        Task<int?>[] talking = [.. Enumerable.Range(0, DoorServer.CommandsMax + DoorServer.WaitingMax)
            .Select(_ => DoorClient.RunAsync(_folder, Request("study", "measure", "fan"), Here(silent), away.Token))];
        // As above.
        while (daemon.Door.Here < talking.Length) await Task.Delay(10, TestContext.Current.CancellationToken);
        using var said = new StringWriter();
        Assert.Equal(1, await DoorClient.RunAsync(_folder, Request("study", "list"),
            new DoorTerminal(TextWriter.Null, said, TextReader.Null), TestContext.Current.CancellationToken));
        Assert.Contains(RigDaq.Daemon.Text.TerminalText.DoorFull(talking.Length), said.ToString(), StringComparison.Ordinal);
        silent.End();
        await away.CancelAsync();
        foreach (Task<int?> one in talking) await Assert.ThrowsAnyAsync<OperationCanceledException>(() => one);
    }

    [Fact]
    public async Task A_message_is_as_long_as_it_may_be_and_no_longer()
    {
        await using DoorHost daemon = await DoorHost.StartAsync(_folder);
        int head = "{\"arguments\":[\"study\",\"\"],\"settings\":{}}".Length;
        DoorRequest longest = Request("study", new string('x', DoorChannel.BytesMax - head));
        Assert.Equal(2, await DoorClient.RunAsync(_folder, longest, Here(TextReader.Null), TestContext.Current.CancellationToken));
        DoorRequest longer = Request("study", new string('x', DoorChannel.BytesMax - head + 1));
        await Assert.ThrowsAsync<RigDaq.App.Input.CannotBeDoneException>(() =>
            DoorClient.RunAsync(_folder, longer, Here(TextReader.Null), TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task Who_listens_and_never_answers_is_no_daemon()
    {
        using Socket? mute = DoorSocket.Bind(_folder, out _);
        mute!.Listen();
        Assert.InRange(DoorClient.ConnectTime.TotalSeconds, 1, 10);
        Assert.Null(await DoorClient.RunAsync(_folder, Request("study", "list"), Here(TextReader.Null), TimeSpan.FromMilliseconds(100),
            TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task Who_takes_nothing_counts_as_gone()
    {
        Assert.InRange(DoorChannel.SendTime.TotalSeconds, 1, 60);
        // Nobody reads the other end, and the system keeps less than a message.
        using Socket? listening = DoorSocket.Bind(_folder, out _);
        listening!.Listen();
        using var mute = new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified);
        await mute.ConnectAsync(listening.LocalEndPoint!, TestContext.Current.CancellationToken);
        using var channel = new DoorChannel(WebSocket.CreateFromStream(new NetworkStream(await listening.AcceptAsync(
            TestContext.Current.CancellationToken), ownsSocket: true), isServer: true, null, TimeSpan.Zero),
                TimeSpan.FromMilliseconds(100));
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => channel.SendAsync(
            new DoorWords { Output = new string('x', 20_000_000) })).WaitAsync(Patience, TestContext.Current.CancellationToken);
    }

    private static DoorTerminal Here(TextReader typed) => new(TextWriter.Null, TextWriter.Null, typed);

    private static DoorRequest Request(params string[] arguments) => new(arguments, new Dictionary<string, string>());

    /// <summary>A person who is asked and types nothing.</summary>
    private sealed class SilentReader : TextReader
    {
        private readonly SemaphoreSlim _asked = new(0);
        private readonly TaskCompletionSource _end = new(TaskCreationOptions.RunContinuationsAsynchronously);

        public Task Asked => _asked.WaitAsync(TestContext.Current.CancellationToken);

        public void End() => _end.TrySetResult();

        public override string? ReadLine()
        {
            _asked.Release();
            _end.Task.Wait(Patience);
            return null;
        }
    }
}
