using System.Text.Json;
using RigDaq.Core.Pulls;
using RigDaq.Core.Trace;
using RigDaq.Corpus;

namespace RigDaq.Core.Tests.Strength;

/// <summary>
/// The traces of tests/corpus, read again. A reading that changed fails and shows both: look at the trace, and where the new
/// reading is the better one, write the corpus anew (tools/corpus).
/// </summary>
public sealed class CorpusTest
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "corpus");

    public static TheoryData<string> Files => [.. File.ReadLines(Path.Combine(Folder, "expected.jsonl"))];

    [Fact]
    public void Holds_at_least_sixty_traces_of_all_kinds_and_endings()
    {
        ExpectedReading[] all = [.. Files.Select(row => JsonSerializer.Deserialize<ExpectedReading>(row.Data)!)];
        Assert.InRange(all.Length, 60, 200);
        Assert.Equal(
            [PullEnding.Broken, PullEnding.PartlyBroken, PullEnding.SlippedOut, PullEnding.Unbroken, PullEnding.NoContact],
            Enum.GetValues<PullEnding>().Where(ending => all.Any(expected => expected.Ending == ending.Word())));
    }

    [Theory]
    [MemberData(nameof(Files))]
    public void Reads_as_it_did(string line)
    {
        ExpectedReading expected = JsonSerializer.Deserialize<ExpectedReading>(line)!;
        TraceReading reading = TraceAnalysis.Read(CorpusFiles.Read(Path.Combine(Folder, expected.File)), new DetectionSettings());
        ExpectedReading actual = ExpectedReading.Of(expected.File, expected.MadeAs, expected.TruePeak, expected.Noise, reading);
        Assert.Equal(expected.MadeAs, actual.Ending);
        Assert.True(Same(expected, actual), $"was {line}\nnow {JsonSerializer.Serialize(actual)}");
    }

    /// <summary>Equal but for what other processors round otherwise.</summary>
    private static bool Same(ExpectedReading a, ExpectedReading b) =>
        a.Ending == b.Ending && a.Drops == b.Drops && a.Spikes == b.Spikes && a.Lost == b.Lost
        && Near(a.Zero, b.Zero) && Near(a.Peak, b.Peak) && Near(a.RawPeak, b.RawPeak) && Near(a.PeakTime, b.PeakTime)
        && Near(a.BreakForce, b.BreakForce) && Near(a.BreakTime, b.BreakTime) && Near(a.UnderRead, b.UnderRead) && Near(a.Parted, b.Parted);

    private static bool Near(double? a, double? b) =>
        a is { } left && b is { } right ? Math.Abs(left - right) <= 2e-4 + (1e-6 * Math.Abs(left)) : a is null && b is null;
}
