using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.PlainDevices;

/// <summary>A device's own word for its forces, as a calibration without a single reference: it covers no force, so that every sequence has
/// to accept that forces are extrapolated, and no uncertainty can be computed from it. It is offered, never taken by itself.</summary>
public static class DeviceClaim
{
    /// <summary>Standard gravity in m/s², exact (3rd CGPM, 1901): what turns the grams of a scale into newtons.</summary>
    public const double StandardGravity = 9.80665;

    /// <summary>What has to be said with it.</summary>
    public static Sentence Warning => RigText.ClaimWarning;

    /// <summary>The curve that the claim amounts to; null for counts, which claim nothing.</summary>
    public static ForceCurve? Curve(LineFormat format) => format.Quantity switch
    {
        LineQuantity.Newtons => new ForceCurve([1 / format.CountsPerUnitInForce]),
        LineQuantity.Grams => new ForceCurve([StandardGravity / 1000 / format.CountsPerUnitInForce]),
        LineQuantity.Kilograms => new ForceCurve([StandardGravity / format.CountsPerUnitInForce]),
        _ => null,
    };

    /// <summary>The claim as a calibration record; null for counts.</summary>
    /// <param name="format">How the device's lines are read.</param>
    /// <param name="deviceId">The device, as 16 hexadecimal digits.</param>
    /// <param name="now">When a person accepted it.</param>
    /// <param name="validity">How long it holds.</param>
    public static CalibrationRecord? Calibration(LineFormat format, string deviceId, DateTimeOffset now, TimeSpan validity) =>
        Curve(format) is not { } curve ? null : new CalibrationRecord
        {
            Id = Guid.CreateVersion7(now).ToString(),
            DeviceId = deviceId,
            AcceptedAt = now,
            ValidUntil = now + validity,
            Curve = curve,
            GreatestReferenceNewtons = 0,
            Circumstances = new CalibrationCircumstances { Remarks = Warning.AsKept() },
        };
}
