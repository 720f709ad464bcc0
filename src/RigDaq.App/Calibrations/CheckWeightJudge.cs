using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Watching;

namespace RigDaq.App.Calibrations;

/// <summary>What a device's check weight says under the calibration in force, from what is kept.</summary>
internal static class CheckWeightJudge
{
    /// <summary>Judges; null where the device has no check weight.</summary>
    public static CheckWeight? Of(RigDiary diary, string deviceId, CalibrationRecord calibration)
    {
        if (diary.FindCheckWeight(deviceId) is not { } plan) return null;
        double? expanded = calibration.UncertaintyAt(plan.Reference.Newtons)?.ExpandedNewtons;
        return CheckWeight.Of(diary.CheckWeightReadings(deviceId), calibration.Id, plan.Reference.Newtons,
            plan.Reference.StandardUncertaintyNewtons, expanded);
    }
}
