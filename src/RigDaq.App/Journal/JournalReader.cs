using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Callers;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;

namespace RigDaq.App.Journal;

/// <summary>Tells what happened between two moments, from what is kept.</summary>
internal sealed class JournalReader(RigArchive archive, TimeProvider time)
{
    /// <summary>So much of each kind is told at most; of more the earliest is left out, and that is said.</summary>
    public const int EachMax = 1_000;

    /// <summary>The longest that is told at once.</summary>
    public static readonly TimeSpan SpanMax = TimeSpan.FromDays(31);

    /// <summary>What is told where nobody said from when.</summary>
    public static readonly TimeSpan SpanUsual = TimeSpan.FromDays(1);

    /// <summary>Reads.</summary>
    /// <param name="from">The first moment; null for a day before the last.</param>
    /// <param name="to">The moment after the last; null for now.</param>
    public JournalTold Read(DateTimeOffset? from, DateTimeOffset? to)
    {
        DateTimeOffset until = to ?? time.GetUtcNow().AddSeconds(1), since = from ?? until - SpanUsual;
        if (until - since > SpanMax) since = until - SpanMax;
        IReadOnlyList<Happening> happened = archive.Diary.Happenings(since, until, EachMax);
        Run[] runs = [.. archive.Runs.Latest(EachMax).Where(run => run.Head.StartedAt >= since && run.Head.StartedAt < until)
            .OrderBy(run => run.Head.StartedAt)];
        IEnumerable<JournalItem> items = happened.Where(each => each.Kind != HappeningKind.Disk).Select(JournalItem.Of)
            .Concat(runs.Select(JournalItem.Of)).OrderByDescending(item => item.At);
        var slopes = new Dictionary<string, double?>(StringComparer.Ordinal);
        return new JournalTold
        {
            From = since,
            To = until,
            Items = [.. items],
            IsCut = happened.Count == EachMax || runs.Length == EachMax,
            Endings = [.. runs.GroupBy(run => run.Ending.Word()).Select(ending => new JournalCount(ending.Key, ending.Count()))],
            Holds = happened.Count(each => each is { Kind: HappeningKind.Alarm, Code: Alarms.AlarmKinds.SequenceHeld }),
            Alarms = happened.Count(each => each.Kind == HappeningKind.Alarm),
            LinksLost = happened.Count(each => each is { Kind: HappeningKind.Alarm, Code: Alarms.AlarmKinds.LinkLost }),
            Zero = Drift(runs, slopes),
            Noise = [.. runs.Select(run => new JournalPoint(run.Head.StartedAt, run.Head.NoiseCounts * Slope(run, slopes)))
                .Where(point => point.Value is not null)],
            Disk = [.. happened.Where(each => each.FreeMegabytes is not null).Reverse()
                .Select(each => new JournalPoint(each.At, each.FreeMegabytes))],
        };
    }

    /// <summary>How the zero moved since the first pull of each calibration in the time that is told, in newtons.</summary>
    private JournalPoint[] Drift(Run[] runs, Dictionary<string, double?> slopes) =>
        [.. runs.GroupBy(run => run.Head.CalibrationId).SelectMany(group =>
        {
            double first = group.First().Head.ZeroCounts;
            return group.Select(run => new JournalPoint(run.Head.StartedAt, (run.Head.ZeroCounts - first) * Slope(run, slopes)));
        }).Where(point => point.Value is not null).OrderBy(point => point.At)];

    private double? Slope(Run run, Dictionary<string, double?> slopes)
    {
        string id = run.Head.CalibrationId;
        if (!slopes.TryGetValue(id, out double? slope))
            slopes[id] = slope = archive.Calibrations.Find(id) is { } calibration ? SlopeOf(calibration) : null;
        return slope;
    }

    private static double? SlopeOf(CalibrationRecord calibration) =>
        calibration.Curve.NewtonsPerCount(0) is var slope && double.IsFinite(slope) ? slope : null;
}
