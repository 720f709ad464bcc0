using RigDaq.Core.Safety;
using RigDaq.Rig.Control;

namespace RigDaq.Daemon.Recording;

/// <summary>Keeps every test of the emergency stop, and tells the rig the last one of a device that comes.</summary>
internal sealed class EmergencyStopDiary : IDisposable
{
    private readonly RigController _rig;
    private readonly ISafetyDiary _diary;
    private string? _device;
    private DateTimeOffset? _known;

    public EmergencyStopDiary(RigController rig, ISafetyDiary diary)
    {
        _rig = rig;
        _diary = diary;
        rig.SnapshotChanged += Look;
    }

    public void Dispose() => _rig.SnapshotChanged -= Look;

    // On the control loop: the archive is asked elsewhere.
    private void Look(RigSnapshot snapshot)
    {
        if (snapshot.Device is not { } device) return;
        if (device.Id != _device)
        {
            (_device, _known) = (device.Id, snapshot.EmergencyStopTest?.At);
            _ = Task.Run(() =>
            {
                if (_diary.EmergencyStopTests(device.Id) is [.., var last]) _rig.SetEmergencyStopTest(last);
            });
        }

        if (snapshot.EmergencyStopTest is not { } test || test.DeviceId != device.Id || _known >= test.At) return;
        _known = test.At;
        // One that was read from the diary is written over itself: same device, same moment, same note.
        _ = Task.Run(() => _diary.Add(test));
    }
}
