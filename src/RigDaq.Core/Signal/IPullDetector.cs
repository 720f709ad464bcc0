using RigDaq.Core.Text;

namespace RigDaq.Core.Signal;

/// <summary>How far a pull has come, as its force alone tells.</summary>
public enum DetectorState
{
    /// <summary>The force has not risen above contact.</summary>
    NoContact,

    /// <summary>The specimen carries load.</summary>
    Loading,

    /// <summary>The force has fallen below its limit and may yet recover.</summary>
    Falling,

    /// <summary>The specimen has parted and nothing is left.</summary>
    Broken,

    /// <summary>It has parted but still carries some load.</summary>
    PartlyBroken,

    /// <summary>The force fell as far, but slowly.</summary>
    SlippedOut,
}

/// <summary>
/// Watches a pull while it runs: one pass, no allocation per sample, no look-ahead beyond the settling window.
/// Once <see cref="DetectorState.Broken"/>, <see cref="DetectorState.PartlyBroken"/> or
/// <see cref="DetectorState.SlippedOut"/> is reached it stays.
/// </summary>
public interface IPullDetector
{
    /// <summary>Where the pull stands now.</summary>
    DetectorState State { get; }

    /// <summary>The greatest despiked force so far, in newtons above zero; 0 before any.</summary>
    double RunningMaximumNewtons { get; }

    /// <summary>Takes one sample.</summary>
    /// <param name="timeSeconds">Device time, rising.</param>
    /// <param name="forceNewtons">Force above zero; a value that is not finite is taken as lost.</param>
    /// <returns>The state after it.</returns>
    DetectorState Add(double timeSeconds, double forceNewtons);
}

/// <summary>How a break is told.</summary>
public sealed record DetectionSettings
{
    /// <summary>A fall below this share of the running maximum is a break, in per cent, 1 to 99. Ours; standards use less.</summary>
    public double RemainingPercent { get; init; } = 40;

    /// <summary>The preload in newtons; contact is the greater of it and 10 × noise. Null for none.</summary>
    public double? PreloadNewtons { get; init; }

    /// <summary>The longest fall from 1.5 × remaining to remaining that is still sudden, in seconds.</summary>
    public double FallSeconds { get; init; } = 0.3;

    /// <summary>How long a fall may yet recover, in seconds (at least three samples).</summary>
    public double SettlingSeconds { get; init; } = 0.25;

    /// <summary>Where a fall is timed from, in per cent of the running maximum: 1.5 × remaining, or half-way up where that is 100 or more.</summary>
    public double FallFromPercent => 1.5 * RemainingPercent < 100 ? 1.5 * RemainingPercent : (100 + RemainingPercent) / 2;

    /// <summary>Refuses settings outside their range.</summary>
    /// <exception cref="RefusalException">A setting is outside its range; the message names it.</exception>
    public void Validate()
    {
        if (!(RemainingPercent >= 1 && RemainingPercent <= 99))
            throw new RefusalException(CoreText.RemainingNotPossible);
        if (PreloadNewtons is { } preload && !(double.IsFinite(preload) && preload >= 0))
            throw new RefusalException(CoreText.PreloadNotPossible);
        if (!(FallSeconds > 0 && FallSeconds <= 60))
            throw new RefusalException(CoreText.SecondsNotPossible);
        if (!(SettlingSeconds > 0 && SettlingSeconds <= 60))
            throw new RefusalException(CoreText.SecondsNotPossible);
    }
}
