using RigDaq.App.Recording;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Protocol.Messages;
using RigDaq.Publishing.Delivery;
using RigDaq.Publishing.Messages;
using RigDaq.Rig.Control;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;

namespace RigDaq.Daemon.Hosting;

/// <summary>Carries what the rig shows to the publisher: live force, state changes, and a nudge when a run was stored.</summary>
internal sealed class LiveRelay : IAsyncDisposable
{
    /// <summary>How many snapshots may wait: every change of state is to be published, while the machine is not hopelessly
    /// behind.</summary>
    private const int SnapshotsMax = 64;

    private readonly RigPublisher _publisher;
    private readonly PullRecorder _recorder;
    private readonly TimeProvider _time;
    private readonly LiveSubscription _live;
    private readonly Task _pump;
    private readonly Onlooker _onlooker;
    private StateMessage? _last;

    /// <param name="rig">What is looked at.</param>
    /// <param name="publisher">Who is told.</param>
    /// <param name="recorder">Tells of runs that were stored.</param>
    /// <param name="time">The clock.</param>
    /// <param name="failed">Hears what went wrong in telling.</param>
    public LiveRelay(RigController rig, RigPublisher publisher, PullRecorder recorder, TimeProvider time, Action<Exception> failed)
    {
        _publisher = publisher;
        _recorder = recorder;
        _time = time;
        _live = rig.SubscribeLive();
        _pump = PumpAsync();
        _onlooker = new Onlooker(rig, SnapshotsMax, Tell, failed);
        recorder.Stored += Nudge;
    }

    public async ValueTask DisposeAsync()
    {
        _recorder.Stored -= Nudge;
        _live.Dispose();
        await _onlooker.DisposeAsync().ConfigureAwait(false);
        await _pump.ConfigureAwait(false);
    }

    private async Task PumpAsync()
    {
        await foreach (LiveBlock block in _live.Blocks.ReadAllAsync().ConfigureAwait(false))
        {
            if (block.Newtons is not { } newtons) continue;
            for (int i = 0; i < newtons.Length; i++)
                _publisher.Live(block.Samples[i].DeviceMicroseconds / 1e6, newtons[i], block.PositionMillimetres?[i]);
        }
    }

    private void Nudge(Run run) => _publisher.Wake();

    // Some tens of times a second: only a change is worth a message.
    private void Tell(RigSnapshot snapshot)
    {
        SequenceSnapshot? sequence = snapshot.Sequence;
        bool hasGuard = snapshot.Hello?.Capabilities.HasFlag(Capabilities.Guard) ?? false;
        bool up = snapshot.Link == LinkStage.Up;
        var state = new StateMessage
        {
            At = default,
            State = sequence?.Stage.Word() ?? "no sequence",
            Reason = sequence?.Reason.AsKept() ?? "",
            LinkUp = up,
            Simulated = snapshot.Device?.Simulated ?? false,
            GuardClosed = up && hasGuard ? snapshot.Inputs.HasFlag(InputStates.GuardClosed) : null,
            EmergencyStopReleased = up ? snapshot.Inputs.HasFlag(InputStates.EmergencyStopReleased) : null,
            StudyId = sequence?.Plan.StudyId,
            SequenceId = sequence?.Plan.SequenceId,
            SpecimenId = sequence?.SpecimenId,
            RunId = sequence?.RunId,
            Done = sequence?.Specimens.Count(s => s.State is SpecimenState.Pulled or SpecimenState.Skipped) ?? 0,
            Total = sequence?.Specimens.Count ?? 0,
        };
        if (state == _last) return;
        _last = state;
        _publisher.State(state with { At = _time.GetUtcNow() });
    }
}
