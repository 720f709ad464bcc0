using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Comparisons;

/// <summary>A control in one session.</summary>
/// <param name="StudyId">The study it was pulled in.</param>
/// <param name="Name">The study's name.</param>
/// <param name="At">When it was first pulled; null where that is not known.</param>
/// <param name="N">Specimens.</param>
/// <param name="Imported">How many of them were imported, without a trace.</param>
/// <param name="MeanMegapascals">The typical (geometric mean) strength.</param>
/// <param name="LowMegapascals">The lower end of its 95 % interval, the calibration's share included as far as it is known; null with one
/// specimen.</param>
/// <param name="HighMegapascals">The upper end.</param>
/// <param name="ChangePercent">From the mean of all sessions before it; null for the first.</param>
/// <param name="Outside">Whether it lies outside the chart's limits; false where there are none yet.</param>
public sealed record ControlPoint(string StudyId, string Name, DateTimeOffset? At, int N, int Imported, double MeanMegapascals,
    double? LowMegapascals, double? HighMegapascals, double? ChangePercent, bool Outside);

/// <summary>A control over the sessions: Shewhart's chart of individual values on the logarithm (NIST/SEMATECH e-Handbook 6.3.2.2), its
/// limits from the first <see cref="BaselineSessions"/>.</summary>
public sealed record ControlHistory
{
    /// <summary>Sessions before there are limits: fewer say too little of how they scatter.</summary>
    public const int BaselineSessions = 10;

    /// <summary>The control.</summary>
    public required GroupKey Control { get; init; }

    /// <summary>The sessions in the order of time.</summary>
    public required IReadOnlyList<ControlPoint> Points { get; init; }

    /// <summary>The centre in MPa: of the baseline, or of all sessions before there is one.</summary>
    public required double CentreMegapascals { get; init; }

    /// <summary>The lower limit of a session in MPa; null before there are limits.</summary>
    public double? LowerMegapascals { get; init; }

    /// <summary>The upper limit.</summary>
    public double? UpperMegapascals { get; init; }

    /// <summary>What it says, in one sentence.</summary>
    public required Sentence Sentence { get; init; }

    /// <summary>Whether any session was on a virtual rig.</summary>
    public bool Simulated { get; init; }

    /// <summary>Gathers the sessions that pulled it; null where none did.</summary>
    /// <param name="control">The control.</param>
    /// <param name="sessions">Studies; those with another control are left out.</param>
    public static ControlHistory? Of(GroupKey control, IEnumerable<EarlierResult> sessions)
    {
        (EarlierResult Session, EarlierStretch[] Stretches)[] pulled =
        [
            .. sessions.Where(s => s.Control == control)
                .Select(s => (s, s.Stretches.Where(x => new GroupKey(x.Material, x.Condition, x.Setting) == control).ToArray()))
                .Where(s => s.Item2.Length > 0).OrderBy(s => s.Item2.Min(x => x.From) ?? s.s.From ?? DateTimeOffset.MinValue),
        ];
        if (pulled.Length == 0) return null;
        double[] logs =
            [.. pulled.Select(s => Moments.Mean([.. s.Stretches.SelectMany(x => x.Megapascals).Select(value => Math.Log(value))]))];
        IndividualsChart? chart = logs.Length > BaselineSessions ? IndividualsChart.Of(logs[..BaselineSessions]) : null;
        ControlPoint[] points = [.. pulled.Select((s, i) => Point(s.Session, s.Stretches, logs, i, chart))];
        return new ControlHistory
        {
            Control = control,
            Points = points,
            CentreMegapascals = Math.Exp(chart?.Centre ?? Moments.Mean(logs)),
            LowerMegapascals = chart is null ? null : Math.Exp(chart.Lower),
            UpperMegapascals = chart is null ? null : Math.Exp(chart.Upper),
            Sentence = chart is null ? CoreText.ControlWithoutLimits(points.Length, BaselineSessions)
                : points[^1].Outside ? CoreText.ControlOutside(points[^1].Name) : CoreText.ControlWithin,
            Simulated = pulled.Any(s => s.Session.Simulated),
        };
    }

    private static ControlPoint Point(EarlierResult session, EarlierStretch[] stretches, double[] logs, int i, IndividualsChart? chart)
    {
        double[] values = [.. stretches.SelectMany(s => s.Megapascals).Select(value => Math.Log(value))];
        EarlierCalibration[] withUncertainty = [.. stretches.SelectMany(s => s.Calibrations).Where(c => c.StandardPercent is not null)];

        // Calibrations are independent of each other; each moves its share of the specimens together.
        double calibration = Math.Sqrt(withUncertainty.GroupBy(c => c.Id)
            .Sum(c => Math.Pow(c.Sum(one => one.Specimens * one.StandardPercent!.Value) / 100 / values.Length, 2)));
        double? half = values.Length < 2 ? null : Math.Sqrt(
            Math.Pow(StudentT.TwoSidedQuantile(0.05, values.Length - 1), 2) * Moments.SumOfSquares(values) / (values.Length - 1)
                / values.Length + Math.Pow(CoverageFactor * calibration, 2));
        return new ControlPoint(
            session.StudyId, session.Name, stretches.Min(s => s.From) ?? session.From, values.Length, stretches.Sum(s => s.Imported),
                Math.Exp(logs[i]),
            half is { } low ? Math.Exp(logs[i] - low) : null, half is { } high ? Math.Exp(logs[i] + high) : null,
            i == 0 ? null : 100 * (Math.Exp(logs[i] - Moments.Mean(logs[..i])) - 1), chart is not null
                && (logs[i] > chart.Upper || logs[i] < chart.Lower));
    }

    /// <summary>About 95 % (JCGM 100, 6.3.3).</summary>
    private const double CoverageFactor = 2;
}
