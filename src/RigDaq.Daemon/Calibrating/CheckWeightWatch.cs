using RigDaq.Core.Calibration;
using RigDaq.Rig.Control;

namespace RigDaq.Daemon.Calibrating;

/// <summary>
/// Tells the rig whether the check weight asks for a new calibration, whenever another device or calibration comes into force:
/// then no sequence starts.
/// </summary>
internal sealed class CheckWeightWatch : IDisposable
{
    private readonly RigController _rig;
    private readonly ICalibrationDiary _diary;
    private (string Device, string Calibration)? _judged;

    public CheckWeightWatch(RigController rig, ICalibrationDiary diary)
    {
        _rig = rig;
        _diary = diary;
        rig.SnapshotChanged += Look;
    }

    public void Dispose() => _rig.SnapshotChanged -= Look;

    // On the control loop: the archive is asked elsewhere.
    private void Look(RigSnapshot snapshot)
    {
        if (snapshot.Device is not { } device || snapshot.Calibration is not { } calibration || _judged == (device.Id, calibration.Id)) return;
        _judged = (device.Id, calibration.Id);
        _ = Task.Run(() => _rig.SetCheckWeightOutside(CheckWeightJudge.Of(_diary, device.Id, calibration)?.AsksForCalibration ?? false));
    }
}
