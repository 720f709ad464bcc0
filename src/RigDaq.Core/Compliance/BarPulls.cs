using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Core.Trace;

namespace RigDaq.Core.Compliance;

/// <summary>The raw pulls on a bar that a compliance was fitted from: kept beside it, so that it can be fitted again under another
/// calibration.</summary>
public sealed record BarPulls
{
    /// <summary>The zero before the pulls, in counts.</summary>
    public required double ZeroCounts { get; init; }

    /// <summary>The crosshead's steps in a millimetre, above 0.</summary>
    public required double StepsPerMillimetre { get; init; }

    /// <summary>The pulls, in their order.</summary>
    public required IReadOnlyList<BarPullSamples> Pulls { get; init; }

    /// <summary>The mean line of the pulls that count.</summary>
    /// <param name="curve">Deflection in counts to newtons.</param>
    /// <param name="bar">The bar; null where its own give is not known.</param>
    /// <exception cref="ArgumentException">It cannot be measured from this; the message says why and what to do.</exception>
    public ComplianceFit Fit(ForceCurve curve, StiffBar? bar) =>
        ComplianceFit.Mean([.. Pulls.Where(pull => !pull.BedsIn).Select(pull => Fit(pull, curve, bar))]);

    /// <summary>The line of one pull.</summary>
    /// <inheritdoc cref="Fit(ForceCurve, StiffBar)"/>
    public ComplianceFit Fit(BarPullSamples pull, ForceCurve curve, StiffBar? bar)
    {
        double[] forces = [.. pull.Counts.Select(counts => curve.Newtons(counts - ZeroCounts))];
        var trace = new ForceTrace
        {
            TimesSeconds = [.. pull.Microseconds.Select(microseconds => microseconds / 1e6)],
            ForcesNewtons = forces,
            PositionsMillimetres = [.. pull.Steps.Select(steps => steps / StepsPerMillimetre)],
        };
        return ComplianceFit.Of(TraceAnalysis.Analyse(trace, new DetectionSettings(),
            new KnownZero(0, NoiseEstimate.FromSecondDifferences(forces))), bar);
    }
}

/// <summary>One raw pull on a bar, its loading only. Three figures a sample, all of one length.</summary>
public sealed record BarPullSamples
{
    /// <summary>The most samples that are kept of a pull: the last ones, where the force is.</summary>
    public const int SamplesMax = 20_000;

    /// <summary>Whether it only beds the grips in and does not count.</summary>
    public bool BedsIn { get; init; }

    /// <summary>The device's time since the first sample, in µs.</summary>
    public required IReadOnlyList<long> Microseconds { get; init; }

    /// <summary>The converter's counts, nothing subtracted.</summary>
    public required IReadOnlyList<int> Counts { get; init; }

    /// <summary>The crosshead's position in steps.</summary>
    public required IReadOnlyList<int> Steps { get; init; }

    /// <summary>Of samples as they came.</summary>
    public static BarPullSamples Of(IReadOnlyList<RawSample> samples)
    {
        RawSample[] kept = [.. samples.Skip(samples.Count - SamplesMax)];
        return new BarPullSamples
        {
            Microseconds = [.. kept.Select(sample => sample.DeviceMicroseconds - kept[0].DeviceMicroseconds)],
            Counts = [.. kept.Select(sample => sample.Counts)],
            Steps = [.. kept.Select(sample => sample.CrossheadSteps)],
        };
    }
}
