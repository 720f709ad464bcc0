namespace RigDaq.Core.Calibration;

/// <summary>A calibration as it is kept: the curve, where it holds, and what it was made from.</summary>
public sealed record CalibrationRecord
{
    /// <summary>A version 7 UUID in its usual text form.</summary>
    public required string Id { get; init; }

    /// <summary>The device whose cell and amplifier it is for, as 16 hexadecimal digits.</summary>
    public required string DeviceId { get; init; }

    /// <summary>When a person accepted it: from then on it is in force.</summary>
    public required DateTimeOffset AcceptedAt { get; init; }

    /// <summary>When it ends; one year by default.</summary>
    public required DateTimeOffset ValidUntil { get; init; }

    /// <summary>Counts to newtons.</summary>
    public required ForceCurve Curve { get; init; }

    /// <summary>The greatest reference force in newtons; beyond it the curve is extrapolated.</summary>
    public required double GreatestReferenceNewtons { get; init; }
}

/// <summary>Where calibrations are kept.</summary>
public interface ICalibrationArchive
{
    /// <summary>Keeps a calibration; on the disk when this returns.</summary>
    void Save(CalibrationRecord calibration);

    /// <summary>A calibration by its id, or null.</summary>
    CalibrationRecord? Find(string calibrationId);

    /// <summary>All of a device, newest first.</summary>
    IReadOnlyList<CalibrationRecord> OfDevice(string deviceId);
}
