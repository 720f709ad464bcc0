using System.Text;
using Microsoft.Extensions.Time.Testing;
using RigDaq.Core.Signal;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Links;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Session;

namespace RigDaq.Rig.Tests.PlainDevices;

/// <summary>The session that lines are made into samples by, on a clock that a test moves.</summary>
public sealed class PlainDeviceTest : ISessionListener
{
    private readonly FakeTimeProvider _time = new();
    private readonly List<RawSample> _samples = [];
    private PlainDeviceSession? _session;
    private int _restarts;

    [Fact]
    public void Answers_as_a_device_that_measures_and_cannot_move()
    {
        PlainDeviceSession session = Connect(new LineFormat());
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
        PlainDeviceSession session = Connect(new LineFormat());
        Say("100", "# tare", "1x0", "OVERLOAD", "101");
        Assert.Equal([100, 101], _samples.Select(sample => sample.Counts));
        Assert.Equal(2, session.SamplesLost);
        Pass(PlainDeviceSession.StateInterval);
        Assert.Equal(2, session.News.LinesDropped);
        Assert.Contains(session.News.Words, words => words.ToString().Contains("2 of 5 lines were not understood")
            && words.ToString().Contains("OVERLOAD"));
    }

    [Fact]
    public void A_device_whose_time_begins_anew_has_restarted()
    {
        PlainDeviceSession session = Connect(new LineFormat { TimeColumn = 1, ForceColumn = 2 });
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
        PlainDeviceSession session = Connect(new LineFormat());
        for (int i = 0; i < 20; i++) Say("7");
        Assert.True(session.State.Inputs.HasFlag(InputStates.ConverterAlive));
        Pass(TimeSpan.FromSeconds(1.5));
        Assert.False(session.State.Inputs.HasFlag(InputStates.ConverterAlive));
        Assert.Contains(session.News.Words, words => words.ToString().Contains("No reading has been printed for 1.5 s"));
    }

    [Fact]
    public void Stamps_made_on_arrival_tell_their_jitter()
    {
        PlainDeviceSession session = Connect(new LineFormat());
        var random = new Random(3);
        double before = 0;
        for (int i = 0; i < 400; i++)
        {
            double late = random.Next(8_000);
            Pass(TimeSpan.FromMicroseconds(12_500 + late - before));
            before = late;
            Print("7");
        }

        Pass(PlainDeviceSession.StateInterval);

        // Uniform over 8 ms: 8/√12 = 2.3 ms.
        Assert.InRange(session.StampStandardUncertaintySeconds, 1.2e-3, 3.5e-3);
        Assert.Contains(session.News.Words, words => words.Code == "stampsMadeHere");
        for (int i = 1; i < _samples.Count; i++) Assert.True(_samples[i].DeviceMicroseconds > _samples[i - 1].DeviceMicroseconds);
    }

    [Fact]
    public void A_claim_covers_no_force_and_counts_claim_nothing()
    {
        Assert.Null(DeviceClaim.Calibration(new LineFormat(), "0", DateTimeOffset.UnixEpoch, TimeSpan.FromDays(30)));
        var newtons = DeviceClaim.Calibration(new LineFormat { Quantity = LineQuantity.Newtons }, "0", DateTimeOffset.UnixEpoch,
            TimeSpan.FromDays(30));
        Assert.Equal(0, newtons!.GreatestReferenceNewtons);
        Assert.Equal(12.5, newtons.Curve.Newtons(12_500), 1e-12);
        Assert.Equal(9.80665, DeviceClaim.Curve(new LineFormat { Quantity = LineQuantity.Grams })!.Newtons(100_000), 1e-12);
    }

    private PlainDeviceSession Connect(LineFormat format)
    {
        _session = new PlainDeviceSession("text device", new PlainDeviceSettings { Format = format, Name = "cell 7" }, _time, this);
        _session.Open();
        _session.Stream(on: true, 0, _ => { });
        Assert.NotNull(_session.Hello);
        // What is left of a line that began before the port was opened.
        Print("7");
        return _session;
    }

    private void Say(params string[] lines)
    {
        foreach (string line in lines)
        {
            Pass(TimeSpan.FromMilliseconds(10));
            Print(line);
        }
    }

    private void Print(string line) => _session!.Handle(Encoding.ASCII.GetBytes(line + "\n"), _time.GetTimestamp());

    private void Pass(TimeSpan time)
    {
        _time.Advance(time);
        _session!.Tick(0, 0);
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
