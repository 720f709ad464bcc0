using System.Diagnostics;

namespace RigDaq.Protocol.Tests.Firmware;

/// <summary>Runs what firmware-protocol needs from the system, with an end to every wait.</summary>
internal static class FirmwareTools
{
    /// <summary>One at a time: tests run side by side, and two makes in one folder spoil each other's files.</summary>
    private static readonly SemaphoreSlim OneAtATime = new(1, 1);

    /// <summary>Where the firmware's sources lie.</summary>
    public static string SourceFolder { get; } = Path.Combine(RepositoryFolder(), "firmware-protocol");

    /// <summary>Where it is built for tests: never in the source folder, where two test runs would meet.</summary>
    public static string BuildFolder { get; } = Path.Combine(AppContext.BaseDirectory, "firmware");

    /// <summary>Skips the test, naming what is missing, where the system lacks one of <paramref name="programs"/>.</summary>
    public static void Need(params string[] programs)
    {
        string[] folders = Environment.GetEnvironmentVariable("PATH")?.Split(Path.PathSeparator) ?? [];
        string[] missing = [.. programs.Where(p => !folders.Any(f => File.Exists(Path.Combine(f, p))))];
        Assert.SkipUnless(missing.Length == 0, $"not installed here: {string.Join(", ", missing)} (bash tools/test.sh installs it)");
    }

    /// <summary>Runs a program in the firmware's folder and gives what it printed; fails the test where it fails or takes too
    /// long.</summary>
    public static async Task<string> Run(string program, params string[] arguments)
    {
        await OneAtATime.WaitAsync(TestContext.Current.CancellationToken);
        try
        {
            return await RunAlone(program, arguments);
        }
        finally
        {
            OneAtATime.Release();
        }
    }

    private static async Task<string> RunAlone(string program, string[] arguments)
    {
        var start = new ProcessStartInfo(program, arguments)
        {
            WorkingDirectory = SourceFolder,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        using Process process = Process.Start(start)!;
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        limit.CancelAfter(TimeSpan.FromMinutes(2));
        try
        {
            Task<string> output = process.StandardOutput.ReadToEndAsync(limit.Token);
            Task<string> errors = process.StandardError.ReadToEndAsync(limit.Token);
            await process.WaitForExitAsync(limit.Token);
            Assert.True(process.ExitCode == 0, $"{program} {string.Join(' ', arguments)}:\n{await output}\n{await errors}");
            return await output;
        }
        catch (OperationCanceledException)
        {
            process.Kill(entireProcessTree: true);
            throw;
        }
    }

    private static string RepositoryFolder()
    {
        string? folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(Path.Combine(folder, "RigDaq.sln"))) folder = Path.GetDirectoryName(folder);
        return folder ?? throw new InvalidOperationException("The tests do not run inside the repository.");
    }
}
