using System.Diagnostics;
using RigDaq.EndToEnd.Tests.Support;

namespace RigDaq.EndToEnd.Tests.Api;

/// <summary>The example for other programs does what it says, on a virtual rig.</summary>
public sealed class ExampleTest
{
    private const string Python = "/usr/bin/python3";

    [Fact]
    public async Task A_python_program_starts_a_sequence_and_draws_its_traces()
    {
        Assert.SkipUnless(File.Exists(Python) && await RunAsync(Python, "-c", "import matplotlib") == (0, ""),
            "python3 with matplotlib is not here: tools/test.sh gets it.");
        using var folder = new TemporaryFolder();
        await using RunningDemo demo = await RunningDemo.StartAsync(folder.Path, "--time-scale", "10");
        // The demo's own sequence is under way then, and the rig calibrated.
        await demo.Process.SaysAsync(new System.Text.RegularExpressions.Regex(@"1 of \d+"), TimeSpan.FromMinutes(2));
        string picture = Path.Combine(folder.Path, "traces.png");
        (int status, string said) = await RunAsync(Python, Path.Combine(Repository.Root, "docs/examples/pull.py"),
            demo.Dashboard.ToString(), "2", picture);
        Assert.True(status == 0, said);
        // ISO/IEC 15948 (PNG), 5.2: a picture begins so.
        Assert.Equal([0x89, (byte)'P', (byte)'N', (byte)'G'],
            (await File.ReadAllBytesAsync(picture, TestContext.Current.CancellationToken))[..4]);
    }

    private static async Task<(int Status, string Said)> RunAsync(params string[] command)
    {
        using Process process = Process.Start(new ProcessStartInfo(command[0], command[1..]) { RedirectStandardError = true })!;
        string said = await process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        return (process.ExitCode, said);
    }
}
