using System.Globalization;
using Microsoft.Extensions.Logging;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Links;
using RigDaq.Rig.Session;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.Control;

/// <content>What the session tells.</content>
internal sealed partial class ControlLoop : ISessionListener
{
    private double? _zeroCounts;
    private double? _meanCounts;
    private double? _meanNewtons;
    private int _steps;
    private long _lastStamp;
    private uint _periodNanoseconds;
    private BlockHead _head;
    private bool _homed;

    /// <summary>The guard's opening was heard by its event, and no block has come since that says how it stands now.</summary>
    private bool _guardHeardOpening;

    private double? StepsPerMillimetre => _hello is { StepsPerMetre: > 0 } hello ? hello.StepsPerMetre / 1000.0 : null;

    private double? PositionMillimetres => StepsPerMillimetre is { } steps && _session?.StateKnown == true ? _steps / steps : null;

    public void DeviceKnown(HelloMessage hello)
    {
        bool another = _hello is { } before && before.DeviceId != hello.DeviceId;
        _hello = hello;
        _linkStage = LinkStage.Up;
        _linkMessage = RigText.DeviceAt(hello.Name, _pump?.Link.Name);
        LinkProvedGood();
        _log.LogInformation("Connected to {Name} ({Device}), firmware {Firmware}.", hello.Name, DeviceIdOf(hello), hello.FirmwareVersion);
        _signal.Reset();
        if (another)
        {
            _startedBecause = StartCauses.None;
            ForgetEmergencyStopTest();
            _zeroCounts = null;
            Happen(new Sequencing.AnotherDevice());
            Calibrate(null, null, Interlocks.CheckWeightVerdict.Inside);
            _calibrationWasSet = false;
        }

        if (!_calibrationWasSet) LookForCalibration(DeviceIdOf(hello));
        if (_stopTest is null) LookForEmergencyStopTest(DeviceIdOf(hello));
        StartStream(hello);
        NoticeConditions();
        ShowNow();
    }

    public void DeviceRestarted()
    {
        _restarts++;
        _startedBecause = StartCauses.None; // Its event says, and follows.
        _motion = null;
        _log.LogWarning("The device has restarted.");
        ForgetHandMotion();
        Happen(new Sequencing.DeviceStartedAnew());
        NoticeConditions();
        ShowNow();
    }

    public void BlockArrived(in BlockHead head, ReadOnlySpan<RawSample> samples)
    {
        DeviceState before = _head.State;
        _head = head;
        _guardHeardOpening = false; // It was sent after the event that was heard: its state knows.
        _steps = head.Steps;
        // A block's samples are older than its state: the position of the block that first says "homed" may be of before.
        _homed = head.State.Flags.HasFlag(StateBits.Homed) && before.Flags.HasFlag(StateBits.Homed) && before.BootNumber == head.State.BootNumber;
        WatchEmergencyStop(head.State);
        if (head.PeriodNanoseconds > 0) _periodNanoseconds = head.PeriodNanoseconds;
        if (samples.Length > 0)
        {
            _lastStamp = samples[^1].DeviceMicroseconds;
            KeepForPull(samples);
            _signal.Take(samples);
            _live.Take(samples, head.LostBefore, LiveContext());
            Average(samples);
        }

        bool changed = before.Inputs != head.State.Inputs || before.Motion != head.State.Motion || before.Faults != head.State.Faults
            || before.Flags != head.State.Flags || before.BootNumber != head.State.BootNumber || before.LimitsId != head.State.LimitsId;
        NoticeConditions();
        NoticeMotion(before, head.State);
        WatchHandMotion(before, head.State);
        if (changed) ShowNow();
    }

    public void EventsMissed(int count)
    {
        _log.LogWarning("{Count} events of the device had no room in its queue; what they told is believed of its state.", count);
        // One of them may have been a guard that opened and closed: a pull that is announced is announced anew. Where the guard is waited for
        // to open, a gap is no word that it did.
        if (_sequence?.Step is Sequencing.SequenceStep.AnnouncedDelay or Sequencing.SequenceStep.MeasuringClamp) GuardMayHaveOpened();
    }

    // Open until a later block tells: the state that is known may be of before, and hands may be in.
    private void GuardMayHaveOpened()
    {
        _guardHeardOpening = true;
        NoticeConditions();
        ShowNow();
    }

    private StartCauses _startedBecause;

    public void EventArrived(EventMessage message)
    {
        // The state in the blocks is believed over any event. But a guard that opened and closed between two blocks is seen by
        // its event only, and hands may have been in: where a specimen is being waited for or announced, that counts.
        if (message.Code == DeviceEventCode.GuardOpened
            && _sequence?.Step is Sequencing.SequenceStep.AwaitingGuardOpen or Sequencing.SequenceStep.AnnouncedDelay or Sequencing.SequenceStep.MeasuringClamp)
            GuardMayHaveOpened();

        if (message.Code == DeviceEventCode.Started)
        {
            _startedBecause = message.StartedBecause;
            if (DeviceWords.Of(_startedBecause) is { Length: > 0 } why && _log.IsEnabled(LogLevel.Warning))
                _log.LogWarning("The device started: {Why}.", why);
            NoticeConditions();
            ShowNow();
        }

        if (_log.IsEnabled(LogLevel.Debug))
        {
            _log.LogDebug("Device event {Code} at {Stamp} µs, detail {Detail}.", message.Code, message.StampMicroseconds, message.Detail);
        }
    }

    public void SessionFailed(LinkEnd end) => _pump?.Link.Close(end);

    private void Average(ReadOnlySpan<RawSample> samples)
    {
        double sum = 0;
        foreach (ref readonly RawSample sample in samples) sum += sample.Counts;
        double mean = sum / samples.Length;
        _meanCounts = mean;
        _meanNewtons = _calibration is { } calibration && _zeroCounts is { } zero ? calibration.Curve.Newtons(mean - zero) : null;
    }

    private LiveContext LiveContext() =>
        new(_calibration?.Curve, _zeroCounts, StepsPerMillimetre, _hello?.BootNumber ?? 0, _pull is { Record: null } pull ? pull.Head.RunId : null);

    private RigDevice? Device => _hello is { } hello
        ? new RigDevice(DeviceIdOf(hello), hello.Name, hello.FirmwareVersion, hello.Capabilities.HasFlag(Capabilities.Simulated))
        : null;

    private static string DeviceIdOf(HelloMessage hello) => hello.DeviceId.ToString("X16", CultureInfo.InvariantCulture);
}
