using System.Diagnostics;
using System.Text;

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

    public static RigdaqProcess Start(params string[] arguments)
    {
        var start = new ProcessStartInfo("dotnet") { RedirectStandardOutput = true, RedirectStandardError = true, RedirectStandardInput = true };
        start.ArgumentList.Add(System.IO.Path.Combine(AppContext.BaseDirectory, "rigdaq.dll"));
        foreach (string argument in arguments) start.ArgumentList.Add(argument);
        return new RigdaqProcess(Process.Start(start)!);
    }

    /// <summary>Runs it to its end.</summary>
    public static async Task<(int Status, string Output, string Errors)> RunAsync(TimeSpan bound, params string[] arguments)
    {
        await using RigdaqProcess process = Start(arguments);
        int status = await process.ExitAsync(bound);
        return (status, process.Output, process.Errors);
    }

    public async Task<int> ExitAsync(TimeSpan bound)
    {
        using var ended = new CancellationTokenSource(bound);
        await _process.WaitForExitAsync(ended.Token);
        return _process.ExitCode;
    }

    /// <summary>As a power cut or the kernel would: no handler runs (SIGKILL).</summary>
    public void KillAtOnce() => _process.Kill();

    public async ValueTask DisposeAsync()
    {
        if (!_process.HasExited) _process.Kill(entireProcessTree: true);
        await _process.WaitForExitAsync();
        _process.Dispose();
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
