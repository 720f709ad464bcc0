using Microsoft.Extensions.Time.Testing;
using RigDaq.Core.Signal;
using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Links;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Session;

namespace RigDaq.Rig.Tests.PlainDevices;

/// <summary>The device that lines are made into, before a real session, on a clock that a test moves.</summary>
public sealed class PlainDeviceTest : ISessionListener
{
    private readonly FakeTimeProvider _time = new();
    private readonly FrameDecoder _toDevice = new();
    private readonly FrameDecoder _toHost = new();
    private readonly List<RawSample> _samples = [];
    private DeviceSession? _session;
    private PlainDevice? _device;
    private long _now = 1_000_000;
    private int _restarts;

    [Fact]
    public void Answers_as_a_device_that_measures_and_cannot_move()
    {
        DeviceSession session = Connect(new LineFormat());
        HelloMessage hello = session.Hello!.Value;
        Assert.Equal(Capabilities.None, hello.Capabilities);
        Assert.Equal(PlainDeviceIdentity.Of("cell 7").Id, hello.DeviceId);
        CommandOutcome moved = default!;
        session.Move(MoveKind.Speed, 1, 1, 0, outcome => moved = outcome);
        Assert.False(moved.Done);
        bool stopped = false;
        session.Stop(atOnce: true, outcome => stopped = outcome.Done);
        Assert.True(stopped);
    }

    [Fact]
    public void Every_line_that_is_dropped_is_a_lost_sample_and_comments_are_not()
    {
        DeviceSession session = Connect(new LineFormat());
        Say("100", "# tare", "1x0", "OVERLOAD", "101");
        Assert.Equal([100, 101], _samples.Select(sample => sample.Counts));
        Assert.Equal(2, session.SamplesLost);
        Assert.Equal(2, _device!.News(_now).LinesDropped);
        Assert.Contains(_device.News(_now).Words, words => words.Contains("2 of 5 lines were not understood") && words.Contains("OVERLOAD"));
    }

    [Fact]
    public void A_device_whose_time_begins_anew_has_restarted()
    {
        DeviceSession session = Connect(new LineFormat { TimeColumn = 1, ForceColumn = 2 });
        uint boot = session.Hello!.Value.BootNumber;
        for (int i = 0; i < 10; i++) Say($"{900_000 + (i * 10)},5");
        for (int i = 0; i < 5; i++) Say($"{i * 10},5");
        Assert.Equal(1, _restarts);
        Assert.NotEqual(boot, session.Hello!.Value.BootNumber);
        // Ten of the first start, and of the second all but those that told it from a damaged line.
        Assert.Equal(10 + 5 - (PrintedClock.AgreeingLines - 1), _samples.Count);
    }

    [Fact]
    public void A_silent_device_is_no_longer_alive()
    {
        DeviceSession session = Connect(new LineFormat());
        for (int i = 0; i < 20; i++) Say("7");
        _device!.TellState(_now);
        Assert.True(session.State.Inputs.HasFlag(InputStates.ConverterAlive));
        _now += 1_500_000;
        _device.TellState(_now);
        Assert.False(session.State.Inputs.HasFlag(InputStates.ConverterAlive));
        Assert.Contains(_device.News(_now).Words, words => words.Contains("No reading has been printed for 1.5 s"));
    }

    [Fact]
    public void Stamps_made_on_arrival_tell_their_jitter()
    {
        Connect(new LineFormat());
        var random = new Random(3);
        for (int i = 0; i < 400; i++)
        {
            _now = 1_000_000 + (i * 12_500L) + random.Next(8_000);
            _device!.TakeLine(new CutLine("7", LineFault.None), _now);
        }

        // Uniform over 8 ms: 8/√12 = 2.3 ms.
        Assert.InRange(_device!.StampStandardUncertaintySeconds, 1.2e-3, 3.5e-3);
        Assert.Contains(_device.News(_now).Words, words => words.Contains(" readings/s") && words.Contains("rates are the less certain"));
        for (int i = 1; i < _samples.Count; i++) Assert.True(_samples[i].DeviceMicroseconds > _samples[i - 1].DeviceMicroseconds);
    }

    [Fact]
    public void A_claim_covers_no_force_and_counts_claim_nothing()
    {
        Assert.Null(DeviceClaim.Calibration(new LineFormat(), "0", DateTimeOffset.UnixEpoch, TimeSpan.FromDays(30)));
        var newtons = DeviceClaim.Calibration(new LineFormat { Quantity = LineQuantity.Newtons }, "0", DateTimeOffset.UnixEpoch, TimeSpan.FromDays(30));
        Assert.Equal(0, newtons!.GreatestReferenceNewtons);
        Assert.Equal(12.5, newtons.Curve.Newtons(12_500), 1e-12);
        Assert.Equal(9.80665, DeviceClaim.Curve(new LineFormat { Quantity = LineQuantity.Grams })!.Newtons(100_000), 1e-12);
    }

    private DeviceSession Connect(LineFormat format)
    {
        _device = new PlainDevice(format, PlainDeviceIdentity.Of("cell 7"), isAsked: false, 41, ToHost);
        _session = new DeviceSession("text device", ToDevice, _time, this);
        _session.Open();
        _session.Stream(on: true, 0, _ => { });
        Assert.NotNull(_session.Hello);
        return _session;
    }

    private void Say(params string[] lines)
    {
        foreach (string line in lines)
        {
            _now += 10_000;
            _device!.TakeLine(new CutLine(line, LineFault.None), _now);
        }
    }

    private void ToDevice(ReadOnlyMemory<byte> bytes)
    {
        ReadOnlySpan<byte> rest = bytes.Span;
        while (_toDevice.TryRead(ref rest, out ReadOnlySpan<byte> payload)) _device!.TakeCommand(payload, _now);
    }

    private void ToHost(ReadOnlyMemory<byte> bytes)
    {
        ReadOnlySpan<byte> rest = bytes.Span;
        while (_toHost.TryRead(ref rest, out ReadOnlySpan<byte> payload)) _session!.Handle(payload.ToArray(), _time.GetTimestamp());
    }

    void ISessionListener.DeviceKnown(HelloMessage hello)
    {
    }

    void ISessionListener.DeviceRestarted() => _restarts++;

    void ISessionListener.BlockArrived(in BlockHead head, ReadOnlySpan<RawSample> samples) => _samples.AddRange(samples);

    void ISessionListener.EventArrived(EventMessage message)
    {
    }

    void ISessionListener.EventsMissed(int count)
    {
    }

    void ISessionListener.SessionFailed(LinkEnd end) => Assert.Fail(end.Message);
}
