using System.Diagnostics;
using System.Text;
using System.Text.RegularExpressions;

namespace RigDaq.EndToEnd.Tests.Support;

/// <summary>The program itself in a process of its own, as a person starts it.</summary>
internal sealed class RigdaqProcess : IAsyncDisposable
{
    private readonly Process _process;
    private readonly StringBuilder _output = new();
    private readonly StringBuilder _errors = new();

    private RigdaqProcess(Process process)
    {
        _process = process;
        process.OutputDataReceived += (_, line) => Add(_output, line.Data);
        process.ErrorDataReceived += (_, line) => Add(_errors, line.Data);
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
    }

    public string Output => Text(_output);

    public string Errors => Text(_errors);

    public static RigdaqProcess Start(params string[] arguments) => StartBy([], arguments);

    /// <summary>The same with some variables of its environment set.</summary>
    public static RigdaqProcess StartWith(Dictionary<string, string> environment, params string[] arguments)
        => StartBy([], environment, arguments);

    /// <summary>The same, started by another program: as another user, in a session of its own.</summary>
    public static RigdaqProcess StartBy(IReadOnlyList<string> starter, params string[] arguments) => StartBy(starter, [], arguments);

    private static RigdaqProcess StartBy(IReadOnlyList<string> starter, Dictionary<string, string> environment, string[] arguments)
    {
        string[] whole = [.. starter, "dotnet"];
        var start = new ProcessStartInfo(whole[0])
        { RedirectStandardOutput = true, RedirectStandardError = true, RedirectStandardInput = true };
        foreach (string argument in whole[1..]) start.ArgumentList.Add(argument);
        start.ArgumentList.Add(System.IO.Path.Combine(AppContext.BaseDirectory, "rigdaq.dll"));
        foreach (string argument in arguments) start.ArgumentList.Add(argument);
        foreach ((string name, string value) in environment) start.Environment[name] = value;
        return new RigdaqProcess(Process.Start(start)!);
    }

    /// <summary>Runs it to its end.</summary>
    public static async Task<(int Status, string Output, string Errors)> RunAsync(TimeSpan bound, params string[] arguments)
    {
        await using RigdaqProcess process = Start(arguments);
        int status = await process.ExitAsync(bound);
        return (status, process.Output, process.Errors);
    }

    /// <summary>Types a line at it.</summary>
    public async Task TypeAsync(string line)
    {
        await _process.StandardInput.WriteLineAsync(line);
        await _process.StandardInput.FlushAsync();
    }

    public async Task<int> ExitAsync(TimeSpan bound)
    {
        using var ended = new CancellationTokenSource(bound);
        await _process.WaitForExitAsync(ended.Token);
        return _process.ExitCode;
    }

    /// <summary>As a power cut or the kernel would: no handler runs (SIGKILL).</summary>
    public void KillAtOnce() => _process.Kill();

    /// <summary>It goes silent without ending: not one of its threads runs any more (SIGSTOP), until <see cref="GoOnAsync"/>.</summary>
    public Task PauseAsync() => SignalAsync("-STOP");

    public Task GoOnAsync() => SignalAsync("-CONT");

    /// <summary>Waits for words on its standard error, in wall time: another process prints them.</summary>
    public async Task<Match> SaysAsync(Regex words, TimeSpan bound)
    {
        long began = TimeProvider.System.GetTimestamp();
        while (true)
        {
            if (words.Match(Errors) is { Success: true } said) return said;
            if (_process.HasExited
                || TimeProvider.System.GetElapsedTime(began) > bound) throw new InvalidOperationException($"It did not say {words}: {Errors}");
            await Task.Delay(20); // Another process: it speaks in wall time.
        }
    }

    public async ValueTask DisposeAsync()
    {
        if (!_process.HasExited) _process.Kill(entireProcessTree: true);
        await _process.WaitForExitAsync();
        _process.Dispose();
    }

    /// <summary>Sends it a signal, by the name that kill(1) takes.</summary>
    public async Task SignalAsync(string signal)
    {
        using Process kill = Process.Start("kill", [signal, _process.Id.ToString(System.Globalization.CultureInfo.InvariantCulture)]);
        await kill.WaitForExitAsync();
    }

    private static void Add(StringBuilder text, string? line)
    {
        if (line is null) return;
        lock (text) text.AppendLine(line);
    }

    private static string Text(StringBuilder text)
    {
        lock (text) return text.ToString();
    }
}
