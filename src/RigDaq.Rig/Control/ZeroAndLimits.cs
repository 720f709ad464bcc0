using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Session;
using RigDaq.Text;

namespace RigDaq.Rig.Control;

/// <summary>The zero that forces are reckoned from, and the limits in counts that were made with it and with the calibration.</summary>
internal sealed class ZeroAndLimits(LoopContext loop, DeviceView device, ActiveCalibration calibration)
{
    private long _takenAt;
    private (DeviceLimits Limits, LimitsBasis For)? _ofSequence;

    /// <summary>The zero; null where none was taken.</summary>
    public double? Counts { get; private set; }

    /// <summary>The standard deviation of the counts while it was taken.</summary>
    public double DeviationCounts { get; private set; }

    /// <summary>How long ago a sequence took it.</summary>
    public double AgeSeconds => loop.Time.GetElapsedTime(_takenAt).TotalSeconds;

    /// <summary>The limits of the sequence; null where they are still to be made.</summary>
    public DeviceLimits? OfSequence => _ofSequence is { } made && made.For.CalibrationNumber == calibration.Number ? made.Limits : null;

    /// <summary>The limits of hand motion; null where they are still to be made.</summary>
    public DeviceLimits? OfHand { get; private set; }

    /// <summary>The force in newtons; null without a zero or a calibration.</summary>
    public double? Newtons(double counts) => calibration.Curve is { } curve && Counts is { } zero ? curve.Newtons(counts - zero) : null;

    /// <summary>A sequence has taken its zero.</summary>
    public void Take(ZeroReading? zero)
    {
        Counts = zero?.Counts;
        DeviationCounts = zero?.DeviationCounts ?? 0;
        _takenAt = loop.Time.GetTimestamp();
    }

    /// <summary>A person has taken the zero: the limits of hand motion were made for the one before.</summary>
    public void TakeByHand(double counts, double deviationCounts)
    {
        Counts = counts;
        DeviationCounts = deviationCounts;
        OfHand = null;
    }

    /// <summary>The zero holds no more.</summary>
    public void ForgetZero() => Counts = null;

    public void ForgetLimitsOfHand() => OfHand = null;

    public void ForgetLimitsOfSequence() => _ofSequence = null;

    /// <summary>The limits of hand motion, or why they cannot be. Made once and kept, so that a jog that is renewed does not send limits
    /// each time.</summary>
    public (DeviceLimits? Limits, Sentence Problem) MakeOfHand(HelloMessage hello)
    {
        if (OfHand is { } made) return (made, Sentence.None);
        double speed = loop.Options.HandSpeedMaxMillimetresPerSecond;
        PullSettings settings = loop.Options.HandMotion with
        {
            SpeedMillimetresPerSecond = speed,
            SlackSpeedMillimetresPerSecond = speed,
            ReturnSpeedMillimetresPerSecond = speed,
        };
        (DeviceLimits? Limits, Sentence Problem) of = Make(hello, settings, Counts ?? device.MeanCounts, null);
        OfHand = of.Limits;
        return of;
    }

    /// <summary>The limits of a sequence for its zero, or why they cannot be.</summary>
    public (DeviceLimits? Limits, Sentence Problem) MakeOfSequence(HelloMessage hello, SequenceState sequence, LimitsBasis basis)
    {
        double start = sequence.StartMillimetres ?? device.PositionMillimetres ?? 0;
        double here = device.PositionMillimetres ?? start;
        (double, double)? travel = sequence.Rig.PositionMillimetres is null ? null
            : (Math.Min(start, here) - SequenceLimits.ReliefTravelMillimetres,
                Math.Max(start + sequence.Plan.Settings.TravelLimitMillimetres, here));
        (DeviceLimits? Limits, Sentence Problem) of = Make(hello, sequence.Plan.Settings, basis.ZeroCounts, travel);
        if (of.Limits is { } limits) _ofSequence = (limits, basis);
        return of;
    }

    private (DeviceLimits? Limits, Sentence Problem) Make(HelloMessage hello, PullSettings settings, double? zeroCounts,
        (double From, double To)? travel)
    {
        (ForceCurve, double)? force = calibration.Curve is { } curve && zeroCounts is { } zero ? (curve, zero) : null;
        return LimitsMaker.Make(hello, settings, force, travel, loop.Options.StiffnessNewtonsPerMillimetre,
            loop.Options.ConverterDelaySeconds);
    }
}
