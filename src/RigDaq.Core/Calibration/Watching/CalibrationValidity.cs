using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Calibration.Watching;

/// <summary>What makes a calibration invalid before its time.</summary>
public enum InvalidationKind
{
    /// <summary>The cell was loaded beyond its full scale or beyond the force limit.</summary>
    Overload,

    /// <summary>Another cell, or the cell was mounted anew.</summary>
    CellChanged,

    /// <summary>Another gain, rate or excitation.</summary>
    AmplifierChanged,

    /// <summary>A person's own reason (dropped, wet, repaired).</summary>
    Other,
}

/// <summary>Something that happened to the cell or its amplifier.</summary>
/// <param name="At">When.</param>
/// <param name="DeviceId">To which device.</param>
/// <param name="Kind">What.</param>
/// <param name="Text">In words.</param>
public sealed record CalibrationInvalidation(DateTimeOffset At, string DeviceId, InvalidationKind Kind, Sentence Text);

/// <summary>What the rig is like now.</summary>
/// <param name="DeviceId">The device, as 16 hexadecimal digits.</param>
/// <param name="Cell">The cell in words; empty where it is not known.</param>
/// <param name="AmplifierSetting">The amplifier's setting in words; empty where it is not known.</param>
public sealed record CurrentRig(string DeviceId, string Cell = "", string AmplifierSetting = "");

/// <summary>Whether a calibration holds now, and why not.</summary>
/// <param name="Reasons">Why it does not hold, one sentence each; empty where it holds.</param>
/// <param name="Warnings">What will matter soon.</param>
public sealed record CalibrationValidity(IReadOnlyList<Sentence> Reasons, IReadOnlyList<Sentence> Warnings)
{
    /// <summary>How long before its end a calibration warns, in days.</summary>
    public const int WarnDays = 30;

    /// <summary>Whether it holds.</summary>
    public bool Holds => Reasons.Count == 0;

    /// <summary>Judges a calibration.</summary>
    /// <param name="calibration">The calibration.</param>
    /// <param name="now">The time.</param>
    /// <param name="rig">What the rig is like now.</param>
    /// <param name="happened">What happened to cells and amplifiers; what lies before its acceptance or befell another device is left
    /// out.</param>
    public static CalibrationValidity Of(CalibrationRecord calibration, DateTimeOffset now, CurrentRig rig,
        IEnumerable<CalibrationInvalidation> happened)
    {
        var reasons = new List<Sentence>();
        var warnings = new List<Sentence>();
        if (calibration.DeviceId != rig.DeviceId) reasons.Add(CoreText.CalibrationOfOtherDevice(calibration.DeviceId, rig.DeviceId));
        if (now >= calibration.ValidUntil)
            reasons.Add(CoreText.CalibrationEnded(calibration.ValidUntil));
        else if (now >= calibration.ValidUntil.AddDays(-WarnDays)) warnings.Add(CoreText.CalibrationEnds(calibration.ValidUntil));
        if (now < calibration.AcceptedAt) warnings.Add(CoreText.CalibrationAcceptedLater);
        Changed(calibration.Circumstances?.Cell, rig.Cell, CoreText.CalibrationOfOtherCell);
        Changed(calibration.Circumstances?.AmplifierSetting, rig.AmplifierSetting, CoreText.CalibrationOfOtherAmplifier);
        foreach (var one in happened.Where(one => one.DeviceId == calibration.DeviceId && one.At > calibration.AcceptedAt)
            .OrderBy(one => one.At))
            reasons.Add(CoreText.CalibrationInvalidated(Words(one.Kind), one.At, one.Text));
        return new CalibrationValidity(reasons, warnings);

        void Changed(string? then, string now, Func<string, string, Sentence> sentence)
        {
            if (!string.IsNullOrEmpty(then) && now.Length > 0 && then != now) reasons.Add(sentence(then, now));
        }
    }

    /// <summary>The newest of a device's calibrations that holds now; null where none does.</summary>
    public static CalibrationRecord? InForce(IEnumerable<CalibrationRecord> calibrations, DateTimeOffset now, CurrentRig rig,
        IReadOnlyList<CalibrationInvalidation> happened) => calibrations.OrderByDescending(calibration => calibration.AcceptedAt)
        .FirstOrDefault(calibration => Of(calibration, now, rig, happened).Holds);

    private static Sentence Words(InvalidationKind kind) => kind switch
    {
        InvalidationKind.Overload => CoreText.CalibrationCellOverloaded,
        InvalidationKind.CellChanged => CoreText.CalibrationCellChanged,
        InvalidationKind.AmplifierChanged => CoreText.CalibrationAmplifierChanged,
        _ => CoreText.CalibrationDeclaredInvalid,
    };
}
