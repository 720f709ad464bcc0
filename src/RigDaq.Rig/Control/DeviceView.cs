using System.Globalization;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Session;

namespace RigDaq.Rig.Control;

/// <summary>What the device has last told of itself. It stays while the link is lost.</summary>
internal sealed class DeviceView(DeviceLink link)
{
    private int _steps;
    private uint _periodNanoseconds;

    public DeviceLink Link => link;

    public IDeviceSession? Session => link.Session;

    /// <summary>What it is; null while none was known yet.</summary>
    public HelloMessage? Hello { get; private set; }

    /// <summary>Its id as 16 hexadecimal digits; null while none was known yet.</summary>
    public string? Id => Hello?.DeviceId.ToString("X16", CultureInfo.InvariantCulture);

    /// <summary>The head of its last block.</summary>
    public BlockHead Head { get; private set; }

    /// <summary>Whether it is homed, and its position is of after that.</summary>
    public bool IsHomed { get; private set; }

    /// <summary>The guard's opening was heard by its event, and no block has come since that says how it stands now.</summary>
    public bool GuardHeardOpening { get; set; }

    /// <summary>Why it started, as it told.</summary>
    public StartCauses StartedBecause { get; set; }

    /// <summary>How often it restarted while it was known.</summary>
    public long Restarts { get; private set; }

    /// <summary>The stamp of its newest sample.</summary>
    public long LastStamp { get; private set; }

    /// <summary>The mean of the last samples in counts; null before any.</summary>
    public double? MeanCounts { get; private set; }

    /// <summary>The same in newtons, by the zero and the calibration of that moment; null where there were none.</summary>
    public double? MeanNewtons { get; private set; }

    public double? StepsPerMillimetre => Hello is { StepsPerMetre: > 0 } hello ? hello.StepsPerMetre / 1000.0 : null;

    public double? PositionMillimetres => StepsPerMillimetre is { } steps && link.IsStateKnown ? _steps / steps : null;

    /// <summary>Samples a second; null before any.</summary>
    public double? SampleRateHertz => _periodNanoseconds > 0 ? 1e9 / _periodNanoseconds : null;

    /// <summary>The interval of samples in seconds, as measured, else as the device says; 0 where neither is known.</summary>
    public double IntervalSeconds => _periodNanoseconds > 0
        ? _periodNanoseconds * 1e-9
        : Hello is { ConverterRateMillihertz: > 0 } hello ? 1000.0 / hello.ConverterRateMillihertz : 0;

    public RigDevice? Device => Hello is { } hello
        ? new RigDevice(Id!, hello.Name, hello.FirmwareVersion, hello.Capabilities.HasFlag(Capabilities.Simulated))
        : null;

    /// <summary>The device has said what it is.</summary>
    /// <returns>Whether it is another one than before.</returns>
    public bool Greet(HelloMessage hello)
    {
        bool another = Hello is { } before && before.DeviceId != hello.DeviceId;
        Hello = hello;
        if (another) StartedBecause = StartCauses.None;
        return another;
    }

    /// <summary>The device is another start than before.</summary>
    public void NoteRestart()
    {
        Restarts++;
        StartedBecause = StartCauses.None; // Its event says, and follows.
    }

    /// <summary>Takes the head of a block.</summary>
    /// <returns>The state of the block before.</returns>
    public DeviceState Take(in BlockHead head)
    {
        DeviceState before = Head.State;
        Head = head;
        GuardHeardOpening = false; // It was sent after the event that was heard: its state knows.
        _steps = head.Steps;
        // A block's samples are older than its state: the position of the block that first says "homed" may be of before.
        IsHomed = head.State.Flags.HasFlag(StateBits.Homed) && before.Flags.HasFlag(StateBits.Homed)
            && before.BootNumber == head.State.BootNumber;
        if (head.PeriodNanoseconds > 0) _periodNanoseconds = head.PeriodNanoseconds;
        return before;
    }

    /// <summary>Takes the mean of a block's samples.</summary>
    public void Average(ReadOnlySpan<RawSample> samples, Func<double, double?> newtons)
    {
        double sum = 0;
        foreach (ref readonly RawSample sample in samples) sum += sample.Counts;
        LastStamp = samples[^1].DeviceMicroseconds;
        MeanCounts = sum / samples.Length;
        MeanNewtons = newtons(sum / samples.Length);
    }
}
