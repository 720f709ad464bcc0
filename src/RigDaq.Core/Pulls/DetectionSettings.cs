using RigDaq.Core.Text;

namespace RigDaq.Core.Pulls;

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

    /// <summary>Where a fall is timed from, in per cent of the running maximum: 1.5 × remaining, or half-way up where that is 100 or
    /// more.</summary>
    public double FallFromPercent => 1.5 * RemainingPercent < 100 ? 1.5 * RemainingPercent : (100 + RemainingPercent) / 2;

    /// <summary>Refuses settings outside their range.</summary>
    /// <exception cref="RefusalException">A setting is outside its range; the message names it.</exception>
    public void Validate()
    {
        if (!(RemainingPercent >= 1 && RemainingPercent <= 99)) throw new RefusalException(CoreText.RemainingNotPossible);
        if (PreloadNewtons is { } preload && !(double.IsFinite(preload) && preload >= 0))
            throw new RefusalException(CoreText.PreloadNotPossible);
        if (!(FallSeconds > 0 && FallSeconds <= 60)) throw new RefusalException(CoreText.SecondsNotPossible);
        if (!(SettlingSeconds > 0 && SettlingSeconds <= 60)) throw new RefusalException(CoreText.SecondsNotPossible);
    }
}
