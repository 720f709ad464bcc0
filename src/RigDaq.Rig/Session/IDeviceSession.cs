using RigDaq.Core.Signal;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Links;
using RigDaq.Text;

namespace RigDaq.Rig.Session;

/// <summary>The conversation with one device over one open link, whatever it speaks. What it learns it tells its
/// <see cref="ISessionListener"/>.</summary>
/// <remarks>Used by one thread; it neither waits nor reads a clock but through the time provider.</remarks>
internal interface IDeviceSession
{
    /// <summary>What the device is; null until it is known.</summary>
    HelloMessage? Hello { get; }

    /// <summary>The last full state.</summary>
    DeviceState State { get; }

    /// <summary>Whether <see cref="State"/> is of this start of the device.</summary>
    bool StateKnown { get; }

    /// <summary>Samples received since the device's start.</summary>
    long SamplesReceived { get; }

    /// <summary>Samples missing since the first one received of this start.</summary>
    long SamplesLost { get; }

    /// <summary>Events of this start whose numbers were passed over: the device had no room for them.</summary>
    long EventsLost { get; }

    /// <summary>The limits that the device has confirmed and says are in force; null where there are none.</summary>
    DeviceLimits? LimitsInForce { get; }

    /// <summary>When samples of this start were taken, on the host's clocks.</summary>
    SampleTimes Times { get; }

    /// <summary>Whether the device may keep silent: then a silent link is no lost one.</summary>
    bool MayBeSilent { get; }

    /// <summary>What it has to tell beyond its samples, as it stands now.</summary>
    LinkNews News { get; }

    /// <summary>Finds out what the device is.</summary>
    void Open();

    /// <summary>Takes what has arrived.</summary>
    /// <param name="payload">A frame's type byte and body; bytes as they came where the device speaks no frames.</param>
    /// <param name="arrivedAt">A timestamp of the time provider.</param>
    void Handle(ReadOnlySpan<byte> payload, long arrivedAt);

    /// <summary>Time has passed: repeats what was not answered, gives up what waited too long.</summary>
    /// <param name="bytesReceived">Bytes of this link so far.</param>
    /// <param name="framesGood">Whole frames of this link so far.</param>
    void Tick(long bytesReceived, long framesGood);

    /// <summary>Sends the keep-alive. Only the control loop calls this.</summary>
    void KeepAlive();

    /// <summary>Stops the crosshead; needs nothing, not even a hello.</summary>
    void Stop(bool atOnce, Action<CommandOutcome> done);

    /// <summary>Sends limits; <paramref name="done"/> gets null when they are confirmed, else why not.</summary>
    void SetLimits(DeviceLimits limits, Action<Sentence?> done);

    /// <summary>Begins a motion under the limits in force; <paramref name="done"/> tells whether it was taken.</summary>
    void Move(MoveKind kind, int speedStepsPerSecond, uint accelerationStepsPerSecondSquared, int targetSteps, Action<CommandOutcome> done);

    /// <summary>Finds home under the limits in force.</summary>
    void Home(uint speedStepsPerSecond, Action<CommandOutcome> done);

    /// <summary>Feeds a specimen under the limits in force.</summary>
    void Feed(Action<CommandOutcome> done);

    /// <summary>Clears faults.</summary>
    void ClearFaults(DeviceFaults faults, Action<CommandOutcome> done);

    /// <summary>Starts the stream of samples; a rate of 0 leaves the rate.</summary>
    void Stream(bool on, uint rateMillihertz, Action<CommandOutcome> done);

    /// <summary>Has a channel described and switches its values. An answer without its description is asked for anew;
    /// <paramref name="done"/> gets the description, or null where there is none that can be used.</summary>
    void Channel(int channel, bool on, Action<ChannelHead?> done);

    /// <summary>The link is gone: whatever waits is told.</summary>
    void End(Sentence words);
}
