using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;
using RigDaq.Virtual.Lines;
using RigDaq.Virtual.Physics;
using RigDaq.Virtual.Randomness;

namespace RigDaq.Virtual.Device;

/// <summary>The device side of the wire, whole: reads the line, moves the rig, samples, reports. Advanced by its owner; it has no clock of
/// its own.</summary>
internal sealed class VirtualDevice
{
    private readonly DeviceContext _context;
    private readonly FrameOutbox _outbox;
    private readonly EventLog _events;
    private readonly BlockBuilder _block;
    private readonly ForceWatch _force;
    private readonly CommandHandler _commands;
    private readonly ChannelBlocks _channels;
    private readonly Sampler _sampler;
    private readonly FrameDecoder _decoder = new();
    private readonly byte[] _received = new byte[4096];
    private readonly ulong _seed;
    private double _owedSeconds;
    private DeviceState _told;
    private int _starts;

    public VirtualDevice(VirtualRigOptions options)
    {
        _seed = options.Seed;
        Physics = new RigPhysics(options);
        Line = new LineTrouble(new SeededRandom(SeedMixer.Mix(_seed, "line")));
        _outbox = new FrameOutbox(Line, options.LineBytesPerSecond);
        _events = new EventLog(_outbox);
        _context = new DeviceContext(options, Physics, _events);
        Feeder = new Feeder(_context, new SeededRandom(SeedMixer.Mix(_seed, "feeder")));
        _force = new ForceWatch(_context);
        Motion = new MotionControl(_context, Feeder, _force);
        _sampler = new Sampler(_context, Converter);
        _block = new BlockBuilder(_outbox);
        _channels = new ChannelBlocks(options, _outbox);
        _commands = new CommandHandler(_context, Motion, _force, _sampler, _events, _outbox, _channels);
        _context.BeforePositionJumps = () => Send(State());
        Start(DeviceFaults.None);
    }

    public RigPhysics Physics { get; }
    public LineTrouble Line { get; }
    public ConverterTrouble Converter { get; } = new();
    public Feeder Feeder { get; }
    public MotionControl Motion { get; }

    public DeviceContext Context => _context;

    /// <summary>The device starts, for the first time or again.</summary>
    public void Start(DeviceFaults faults)
    {
        _outbox.Clear();
        _outbox.ForgetDrops();
        _events.Clear();
        _block.Clear();
        _commands.Clear();
        _channels.Clear();
        _force.Clear();
        Motion.Clear();
        Feeder.Start();
        var boot = (uint)SeedMixer.Mix(_seed, "boot", (_starts++).ToString(System.Globalization.CultureInfo.InvariantCulture));
        _context.Start(boot == 0 || boot == _context.BootNumber ? boot + 1 : boot, faults);
        _sampler.Clear();
        _outbox.SendDelimiter();
        _commands.SayHello();
    }

    /// <summary>Lets time pass: reads what came, goes on, gives the line what it takes.</summary>
    /// <param name="line">The line, or null where none is plugged in.</param>
    /// <param name="wallNow">Wall time since the beginning.</param>
    /// <param name="rigSeconds">Rig time to go on by.</param>
    public void Tick(IDeviceLine? line, TimeSpan wallNow, double rigSeconds)
    {
        _context.WallNow = wallNow;
        if (line is not null) Read(line);
        Motion.Tick();
        _owedSeconds += rigSeconds;
        // Half a step of grace: the sum of many small shares must not lose a step to rounding.
        while (_owedSeconds >= _sampler.StepSeconds * (1 - 1e-6))
        {
            _owedSeconds -= _sampler.StepSeconds;
            Step();
        }

        if (_context.DriverFaulty) Motion.Fault(DeviceFaults.Driver);
        if (_sampler.IsFaulty(Motion.State != MotionState.Still)) Motion.Fault(DeviceFaults.Converter);
        _events.Tick(wallNow);
        DeviceState state = State();
        if (_block.IsDue(wallNow) || ChangedMuch(state)) Send(state);
        _channels.Tick(_context.BootNumber, wallNow);
        _outbox.Pump(line, wallNow);
    }

    private void Read(IDeviceLine line)
    {
        while (_outbox.HasRoomForAnswers)
        {
            int length = line.Read(_received);
            if (length == 0) return;
            ReadOnlySpan<byte> rest = _received.AsSpan(0, length);
            while (_decoder.TryRead(ref rest, out ReadOnlySpan<byte> payload))
            {
                if (!Line.TakesFromHost()) _commands.Take(payload);
            }
        }
    }

    private void Step()
    {
        Physics.Step(_sampler.StepSeconds);
        Motion.AfterStep();
        if (_sampler.Step(out Conversion conversion)) Deliver(conversion);
    }

    private void Deliver(Conversion conversion)
    {
        Motion.AfterConversion();
        _channels.AfterConversion(conversion.Number, _context.StreamOn, Physics, _context.BootNumber, _context.WallNow);
        if (!_context.StreamOn) return;
        int steps = _context.StepsNow;
        uint stamp = _context.StampAt(conversion.EndedAtSeconds), period = _sampler.PeriodNanoseconds;
        if (!_block.Fits(conversion.Number, stamp, period, steps)) Send(State());
        _block.Add(conversion.Number, stamp, period, conversion.Counts, steps, _context.WallNow);
    }

    private void Send(DeviceState state)
    {
        _told = state;
        _block.Send(state, _sampler.NextNumber, _context.StampNow, _sampler.PeriodNanoseconds, _context.StepsNow, _context.WallNow);
    }

    private bool ChangedMuch(DeviceState state) =>
        state.Motion != _told.Motion || state.Faults != _told.Faults || state.Inputs != _told.Inputs;

    private DeviceState State() => new(
        _context.BootNumber,
        Inputs(),
        Motion.State,
        (_context.Homed ? StateBits.Homed : 0) | (_context.MotorPowered ? StateBits.MotorEnabled : 0)
            | (_outbox.HasDroppedBlocks ? StateBits.BlocksDropped : 0),
        _context.Faults,
        _context.Limits?.LimitsId ?? 0,
        _commands.LastCommand,
        _events.OldestPending);

    private InputStates Inputs()
    {
        VirtualRigOptions options = _context.Options;
        InputStates inputs = 0;
        if (options.HasGuard && _context.GuardClosed) inputs |= InputStates.GuardClosed;
        if (_context.EmergencyStopReleased) inputs |= InputStates.EmergencyStopReleased;
        if (options.HasMotion && _context.LowerLimitReached) inputs |= InputStates.LowerLimit;
        if (options.HasMotion && _context.UpperLimitReached) inputs |= InputStates.UpperLimit;
        if (_context.ConverterAlive) inputs |= InputStates.ConverterAlive;
        if (options.HasFeeder && Physics.Held is not null) inputs |= InputStates.SpecimenLoaded;
        if (options.HasFeeder && Feeder.Waiting == 0) inputs |= InputStates.FeederEmpty;
        return inputs;
    }
}
