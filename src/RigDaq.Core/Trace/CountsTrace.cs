using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;

namespace RigDaq.Core.Trace;

/// <summary>A recorded trace in counts, its zero still in it.</summary>
/// <param name="TimesSeconds">When each sample was taken, never falling.</param>
/// <param name="Counts">One a time; a value that is not finite is taken as lost.</param>
/// <param name="PositionsMillimetres">The crosshead at each, or null.</param>
public sealed record CountsTrace(double[] TimesSeconds, double[] Counts, double[]? PositionsMillimetres)
{
    // The ends of a 24-bit converter.
    private const int FullScaleCounts = (1 << 23) - 1;

    /// <summary>How long before its stamp a conversion looked at the force, on average, in seconds.</summary>
    public double ConverterDelaySeconds { get; init; }

    /// <summary>Reads it under a calibration curve; the zero is taken in counts before the curve is used.</summary>
    /// <param name="curve">Deflection in counts to newtons.</param>
    /// <param name="settings">How a break is told.</param>
    /// <param name="compliance">The machine's give, taken off the extension; null where it was not measured.</param>
    public AnalysedTrace Analyse(ForceCurve curve, DetectionSettings settings, MachineCompliance? compliance = null)
    {
        double slope = curve.NewtonsPerCount(0);
        double sign = slope < 0 ? -1 : 1;
        int[] finite = [.. Enumerable.Range(0, Counts.Length).Where(i => double.IsFinite(Counts[i]))];
        double preloadCounts = slope == 0 ? 0 : (settings.PreloadNewtons ?? 0) / Math.Abs(slope);
        double[] times = [.. finite.Select(i => TimesSeconds[i])];
        double[] rising = [.. finite.Select(i => sign * Counts[i])];
        ZeroStretch? zero = ZeroFinder.Find(times, rising, preloadCounts);

        // Counts have no zero of their own: whether it bore load is not to be seen, whether it moves is.
        if (zero is { } found)
        {
            (ZeroStretch judged, string refusal) = ZeroJudge.Of(times, [.. rising.Select(counts => counts - found.Mean)],
                found with { Mean = 0 });
            zero = refusal.Length > 0 ? null : judged with { Mean = judged.Mean + found.Mean };
        }

        // Without a zero the first sample stands for it, so that at least the ending can be read; the reading warns.
        double zeroCounts = sign * zero?.Mean ?? (finite.Length > 0 ? Counts[finite[0]] : 0);
        var trace = new ForceTrace
        {
            TimesSeconds = TimesSeconds,
            ForcesNewtons = [.. Counts.Select(counts => curve.Newtons(counts - zeroCounts))],
            PositionsMillimetres = PositionsMillimetres,
            ConverterDelaySeconds = ConverterDelaySeconds,
            SaturationNewtons = SaturationNewtons(curve, zeroCounts),
        };
        AnalysedTrace analysed = TraceAnalysis.Analyse(trace, settings, zero: null, compliance);
        double? zeroNewtons = zero is null ? null : curve.Newtons(zeroCounts);
        return analysed with { Reading = analysed.Reading with { ZeroNewtons = zeroNewtons } };
    }

    /// <summary>The force at which a 24-bit converter is at its end.</summary>
    internal static double SaturationNewtons(ForceCurve curve, double zeroCounts)
    {
        // A cell wired the other way runs into the other end.
        int end = curve.NewtonsPerCount(0) < 0 ? -FullScaleCounts - 1 : FullScaleCounts;
        return curve.Newtons(end - zeroCounts);
    }
}
