using System.Text.RegularExpressions;

namespace RigDaq.Daemon.Tests.House;

/// <summary>
/// A test that waits in wall time is slow, and fails where the machine is busy. Where one must (a real browser, a real port, another
/// program), it says why beside the wait.
/// </summary>
public sealed partial class WaitsSayWhyTest
{
    /// <summary>The reason stands on the line of the wait or so many lines above it at most.</summary>
    private const int LinesAboveMax = 6;

    [Fact]
    public void Every_wait_in_wall_time_in_a_test_says_why()
    {
        string tests = Path.Combine(Page.Root(), "tests");
        List<string> silent = [];
        foreach (string file in Directory.EnumerateFiles(tests, "*.cs", SearchOption.AllDirectories))
        {
            if (file.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal)) continue;
            string[] lines = File.ReadAllLines(file);
            for (int i = 0; i < lines.Length; i++)
            {
                if (!Wait().IsMatch(lines[i]) || SaysWhy(lines, i)) continue;
                silent.Add($"{Path.GetRelativePath(tests, file)}:{i + 1}: {lines[i].Trim()}");
            }
        }

        Assert.Empty(silent);
    }

    [Theory] // The guard itself.
    [InlineData(true, "// The browser paints in wall time.", "await Task.Delay(50);")]
    [InlineData(true, "Thread.Sleep(50); // the port is real")]
    [InlineData(false, "var url = \"http://localhost\";", "await Task.Delay(50);")]
    [InlineData(false, "// Too far above.", "", "", "", "", "", "", "await Task.Delay(50);")]
    public void A_reason_is_a_comment_near_by(bool saysWhy, params string[] lines) =>
        Assert.Equal(saysWhy, SaysWhy(lines, lines.Length - 1));

    private static bool SaysWhy(string[] lines, int wait) =>
        lines[Math.Max(0, wait - LinesAboveMax)..(wait + 1)].Any(line => Comment().IsMatch(line));

    // With a TimeProvider a wait is no wall time; Timeout.Infinite waits for the cancellation and not for a time.
    [GeneratedRegex(@"(Task\.Delay|Thread\.Sleep|WaitForTimeoutAsync)\((?!.*(\b_?time\b|Timeout\.Infinite))")]
    private static partial Regex Wait();

    [GeneratedRegex(@"(?<![:""])//")]
    private static partial Regex Comment();
}
