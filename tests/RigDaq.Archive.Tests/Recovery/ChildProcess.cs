using System.Diagnostics;
using System.Globalization;
using System.Runtime.CompilerServices;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;

namespace RigDaq.Archive.Tests.Recovery;

/// <summary>
/// This test program run once more, as something that can be killed: with the variable set it stores runs and says so
/// instead of running tests.
/// </summary>
internal static class ChildProcess
{
    private const string Variable = "RIGDAQ_ARCHIVE_CHILD";
    private const int Never = 100_000;

    /// <summary>Starts a child that does <paramref name="work"/> in <paramref name="folder"/>.</summary>
    /// <param name="work">store, pull or open.</param>
    /// <param name="folder">The data folder.</param>
    /// <param name="largestFileKilobytes">A limit on the size of any file, as a full disk would be; 0 for none.</param>
    public static Process Start(string work, string folder, int largestFileKilobytes = 0)
    {
        string assembly = typeof(ChildProcess).Assembly.Location;
        string shell = largestFileKilobytes == 0
            ? "exec dotnet exec \"$0\""
            : $"trap '' XFSZ; ulimit -f {largestFileKilobytes}; exec dotnet exec \"$0\"";
        var start = new ProcessStartInfo("bash", ["-c", shell, assembly]) { RedirectStandardOutput = true, RedirectStandardError = true };
        start.Environment[Variable] = $"{work}|{folder}";
        // The runtime's own large mappings would meet the limit first.
        start.Environment["DOTNET_EnableWriteXorExecute"] = "0";
        return Process.Start(start)!;
    }

    [ModuleInitializer]
    internal static void RunInstead()
    {
        if (Environment.GetEnvironmentVariable(Variable) is not { Length: > 0 } order) return;
        string[] parts = order.Split('|');
        try
        {
            Do(parts[0], parts[1]);
            Environment.Exit(0);
        }
        catch (IOException e)
        {
            Say(e.GetType().Name + ": " + e.Message);
            Environment.Exit(1);
        }
    }

    private static void Do(string work, string folder)
    {
        using var archive = new RigArchive(folder, TimeProvider.System, NullLogger.Instance);
        Say("open");
        int first = archive.Runs.Latest(int.MaxValue).Count;
        for (int number = first; work != "open" && number < first + Never; number++)
        {
            if (work == "store") Say("stored " + Example.Store(archive, number).Head.RunId);
            else Pull(archive, number);
        }
    }

    private static void Pull(RigArchive archive, int number)
    {
        PullHead head = Example.Head(number);
        ICaptureWriter writer = archive.Captures.Begin(head);
        RawSample[] samples = Example.Samples(40_000);
        for (int at = 0; at < samples.Length; at += 5)
        {
            writer.Append(samples.AsSpan(at, 5));
            Say(string.Create(CultureInfo.InvariantCulture, $"appended {at + 5} {head.RunId}"));
        }
    }

    private static void Say(string line)
    {
        Console.Out.WriteLine(line);
        Console.Out.Flush();
    }
}
