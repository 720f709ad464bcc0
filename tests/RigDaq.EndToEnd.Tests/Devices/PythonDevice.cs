using System.Diagnostics;

namespace RigDaq.EndToEnd.Tests.Devices;

/// <summary>A device in another language in a process of its own, on a pseudo-terminal.</summary>
internal sealed class PythonDevice : IAsyncDisposable
{
    private static readonly TimeSpan StartMax = TimeSpan.FromSeconds(20);

    private readonly Process _process;

    private PythonDevice(Process process, string port)
    {
        _process = process;
        Port = port;
    }

    /// <summary>The pseudo-terminal's name.</summary>
    public string Port { get; }

    /// <summary>Starts it, or skips the test where that cannot be here.</summary>
    public static async Task<PythonDevice> StartAsync(string script, params string[] arguments)
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "Needs pseudo-terminals as Linux has them.");
        Assert.SkipUnless(File.Exists("/usr/bin/python3"), "not installed here: python3 (bash tools/test.sh installs it)");
        Process process =
            Process.Start(new ProcessStartInfo("/usr/bin/python3",
            ["-B", Path.Combine(AppContext.BaseDirectory, "Devices", script), .. arguments])
            {
                RedirectStandardInput = true,
                RedirectStandardOutput = true,
            })!;
        return new PythonDevice(process, (await process.StandardOutput.ReadLineAsync().WaitAsync(StartMax))!);
    }

    /// <summary>Tells it what a person does.</summary>
    public async Task DoAsync(FormattableString what)
    {
        await _process.StandardInput.WriteLineAsync(FormattableString.Invariant(what));
        await _process.StandardInput.FlushAsync();
    }

    public async ValueTask DisposeAsync()
    {
        _process.Kill();
        await _process.WaitForExitAsync();
        _process.Dispose();
    }
}
