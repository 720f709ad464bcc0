using System.Globalization;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Core.Trace;
using RigDaq.Corpus;

namespace RigDaq.Core.Tests.Strength;

/// <summary>
/// Recordings that others made and published (tests/corpus/curves, CC BY 4.0; the first line of each file names its source), read as a
/// person reads them from a plot: curves.csv. Peaks there have the recorder's zero in them; tension curves (geo) carry 5 to 15 N of noise.
/// </summary>
public sealed class CurvesTest
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "corpus", "curves");

    // A pierced sheet and a piece that slid are the same trace in force.
    private static readonly Dictionary<string, PullEnding[]> Answers = new()
    {
        ["broken"] = [PullEnding.Broken, PullEnding.PartlyBroken],
        ["broken in steps"] = [PullEnding.Broken, PullEnding.PartlyBroken],
        ["partly broken"] = [PullEnding.Broken, PullEnding.PartlyBroken],
        ["gradual"] = [PullEnding.SlippedOut, PullEnding.PartlyBroken],
        ["unbroken"] = [PullEnding.Unbroken],
        ["no contact"] = [PullEnding.NoContact],
    };

    public static TheoryData<string, string, double?> Curves => [.. File.ReadLines(Path.Combine(Folder, "curves.csv")).Skip(1)
        .Select(line => line.Split(','))
        .Select(row => (row[0], row[1], row[2].Length > 0 ? double.Parse(row[2], CultureInfo.InvariantCulture) : (double?)null))];

    [Fact]
    public void There_are_31_and_each_names_its_source()
    {
        string[] files = [.. Directory.EnumerateFiles(Folder, "*_*.csv")];
        Assert.Equal(31, files.Length);
        Assert.All(files, file => Assert.Matches("^# from github .*; licence CC BY 4.0", File.ReadLines(file).First()));
    }

    [Theory]
    [MemberData(nameof(Curves))]
    public void Ends_and_peaks_as_a_person_reads_it(string file, string ending, double? peakNewtons)
    {
        TraceReading reading = TraceAnalysis.Read(CorpusFiles.Read(Path.Combine(Folder, file)), new DetectionSettings());
        Assert.Contains(reading.Ending, Answers[ending]);
        double tolerance = file.StartsWith("geo", StringComparison.Ordinal) ? 0.04 : 0.01;
        if (peakNewtons is { } eye) Assert.InRange(reading.PeakForceNewtons!.Value + (reading.ZeroNewtons ?? 0), (1 - tolerance) * eye,
            (1 + tolerance) * eye);
        else Assert.Null(reading.PeakForceNewtons);
        if (ending == "broken in steps") Assert.InRange(reading.Steps.Count, 2, 10);
        Assert.All(reading.Steps, step => Assert.True(step.ForceNewtons > step.LeftNewtons));
    }

    [Theory]
    [MemberData(nameof(Curves))]
    public void Ends_alike_while_it_runs_where_the_recording_goes_on(string file, string ending, double? peakNewtons)
    {
        ForceTrace trace = CorpusFiles.Read(Path.Combine(Folder, file));
        TraceReading reading = TraceAnalysis.Read(trace, new DetectionSettings());

        // While it runs there is a settling window to wait for.
        if (reading.Warnings.Any(warning => warning.Code == "recordingStopsInFall")) return;
        double noise = reading.NoiseNewtons ?? NoiseEstimate.FromSecondDifferences(trace.ForcesNewtons);
        var despiker = new Despiker(noise);
        var detector = new BreakDetector(new DetectionSettings(), noise);
        for (int i = 0; i < trace.TimesSeconds.Length; i++)
        {
            despiker.Add(trace.TimesSeconds[i], trace.ForcesNewtons[i] - (reading.ZeroNewtons ?? 0));
            while (despiker.TryTake(out DespikedSample sample))
            {
                if (!sample.IsSpike) detector.Add(sample.TimeSeconds, sample.Value);
            }
        }

        PullEnding live = detector.State switch
        {
            DetectorState.Broken => PullEnding.Broken,
            DetectorState.PartlyBroken => PullEnding.PartlyBroken,
            DetectorState.SlippedOut => PullEnding.SlippedOut,
            DetectorState.NoContact => PullEnding.NoContact,
            _ => PullEnding.Unbroken,
        };
        Assert.Contains(live, Answers[ending]);
        Assert.Equal(peakNewtons is null, live == PullEnding.NoContact);
    }
}
