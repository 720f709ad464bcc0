using System.IO.Pipelines;
using RigDaq.Protocol.Messages;
using RigDaq.Virtual.Device;
using RigDaq.Virtual.Lines;
using RigDaq.Virtual.Physics;

namespace RigDaq.Virtual.Machine;

/// <summary>A rig made of equations behind the same wire as a real one: frame, crosshead, grips, specimens, cell, inputs, feeder, and the
/// device that speaks for them. It is powered as long as it exists, whether a host is connected or not.</summary>
/// <remarks>Safe for concurrent use: everything happens under one lock, for a short time.</remarks>
public sealed partial class VirtualRig : IAsyncDisposable
{
    private readonly Lock _gate = new();
    private readonly VirtualRigOptions _options;
    private readonly VirtualDevice _device;
    private readonly Pacer? _pacer;
    private TimeSpan _wallNow;
    private IDeviceLine? _line;
    private Func<IDeviceLine>? _plugAgain;
    private TimeSpan? _pluggedAgainAt;
    private bool _disposed;

    /// <summary>Switches a rig on.</summary>
    /// <param name="options">What it is made of.</param>
    /// <param name="time">The wall clock that paces it, unless <see cref="VirtualRigOptions.Stepped"/>.</param>
    /// <exception cref="ArgumentException">A figure in the options is outside its range.</exception>
    public VirtualRig(VirtualRigOptions options, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(time);
        options.Validate();
        _options = options;
        _device = new VirtualDevice(options);
        _pacer = options.Stepped ? null : new Pacer(time, Pass);
    }

    /// <summary>What it is made of.</summary>
    public VirtualRigOptions Options => _options;

    /// <summary>The true force on the cell now, in newtons; positive pulls.</summary>
    public double TrueForceNewtons => Read(() => _device.Physics.TrueForceNewtons);

    /// <summary>Where the crosshead truly is, in mm from the lower limit switch.</summary>
    public double CrossheadMillimetres => Read(() => _device.Physics.Crosshead.PositionMillimetres);

    /// <summary>The position as the device tells it, in steps from home.</summary>
    public int PositionSteps => Read(() => _device.Context.StepsNow);

    /// <summary>Whether the motor turns.</summary>
    public bool IsMotorMoving => Read(() => _device.Physics.Crosshead.IsMoving);

    /// <summary>Whether the motor has power.</summary>
    public bool IsMotorPowered => Read(() => _device.Context.MotorPowered);

    /// <summary>What the device does.</summary>
    public MotionState Motion => Read(() => _device.Motion.State);

    /// <summary>The faults that are latched in the device.</summary>
    public DeviceFaults Faults => Read(() => _device.Context.Faults);

    /// <summary>This start's number.</summary>
    public uint BootNumber => Read(() => _device.Context.BootNumber);

    /// <summary>Rig time since it was switched on.</summary>
    public TimeSpan RigTime => Read(() => TimeSpan.FromSeconds(_device.Physics.RigSeconds));

    /// <summary>How many specimens parted or slid out so far.</summary>
    public int PullsMade => Read(() => _device.Physics.BreakCount);

    /// <summary>What truly happened to them, in order (the last ten thousand).</summary>
    public IReadOnlyList<VirtualBreak> Breaks => Read(() => _device.Physics.Breaks.ToArray());

    /// <summary>What is between the grips, whole or broken; null for nothing.</summary>
    public VirtualSpecimen? SpecimenInGrips => Read(() => _device.Physics.Held?.Specimen);

    /// <summary>How many specimens wait in the feeder.</summary>
    public int SpecimensWaiting => Read(() => _device.Feeder.Waiting);

    /// <summary>Plugs a cable in that stays inside the process. An earlier one is pulled. The host's end completes when the cable is
    /// pulled; completing its output pulls it from the host's side.</summary>
    /// <returns>The host's end.</returns>
    /// <exception cref="IOException">The cable is unplugged just now, by <see cref="VirtualFault.Unplug"/>.</exception>
    public IDuplexPipe ConnectInProcess()
    {
        lock (_gate)
        {
            ObjectDisposedException.ThrowIf(_disposed, this);
            if (_pluggedAgainAt is not null) throw new IOException("The virtual rig's cable is unplugged.");
            var line = new PipeLine();
            Replace(line, null);
            return line.HostEnd;
        }
    }

    /// <summary>Plugs a pseudo-terminal in (Linux and macOS), so that a host opens it like any serial port. An earlier cable is
    /// pulled.</summary>
    /// <param name="link">A path that becomes a symbolic link to it, so that the name stays when the cable is unplugged and plugged in
    /// again; null for the slave's own path.</param>
    /// <returns>The path to open.</returns>
    /// <exception cref="PlatformNotSupportedException">The system has no pseudo-terminals: use <see cref="ConnectInProcess"/>.</exception>
    /// <exception cref="IOException">The system refused, or the cable is unplugged just now.</exception>
    public string OpenPty(string? link = null)
    {
        if (!OperatingSystem.IsLinux() && !OperatingSystem.IsMacOS())
            throw new PlatformNotSupportedException("Pseudo-terminals need Linux or macOS; the in-process line runs anywhere.");
        lock (_gate)
        {
            ObjectDisposedException.ThrowIf(_disposed, this);
            if (_pluggedAgainAt is not null) throw new IOException("The virtual rig's cable is unplugged.");
            // The earlier one goes first: both may go by the same link.
            Replace(null, null);
            var line = new PtyLine(link);
            Replace(line, () => new PtyLine(link));
            return line.Path;
        }
    }

    /// <summary>What a host opens now; null while no pseudo-terminal is plugged in. Without a link it may be another path after
    /// <see cref="VirtualFault.Unplug"/>.</summary>
    public string? PtyPath => Read(() => (_line as PtyLine)?.Path);

    /// <summary>Puts specimens at the end of the feeder's queue.</summary>
    /// <exception cref="ArgumentException">A specimen's figure is outside its range.</exception>
    public void QueueSpecimens(IEnumerable<VirtualSpecimen> specimens)
    {
        ArgumentNullException.ThrowIfNull(specimens);
        Do(() =>
        {
            foreach (VirtualSpecimen specimen in specimens) _device.Feeder.Add(specimen);
        });
    }

    /// <summary>Hangs a weight on the hook under the cell. It swings at first.</summary>
    /// <param name="kilograms">Its conventional mass, as weights are marked (8,000 kg/m³ in air of 1.2 kg/m³; OIML D 28).</param>
    /// <param name="localGravity">In m/s².</param>
    /// <param name="massDensity">Its density in kg/m³.</param>
    /// <param name="airDensity">That of the air in kg/m³.</param>
    public void HangMass(double kilograms, double localGravity, double massDensity = 8000, double airDensity = 1.2)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(kilograms);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(localGravity);
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(massDensity, airDensity);
        Do(() => _device.Physics.Hang(
            new HangingMass(kilograms, localGravity, airDensity, massDensity, _device.Physics.RigSeconds, _options)));
    }

    /// <summary>Takes the weight off.</summary>
    public void TakeMassOff() => Do(() => _device.Physics.Hang(null));

    /// <summary>Puts a specimen between the grips by hand and closes both, as a person does: with the guard open.</summary>
    /// <param name="specimen">What is gripped; what was there is taken out.</param>
    /// <exception cref="InvalidOperationException">The guard is closed, or something moves: nobody's hands belong there.</exception>
    public void LoadSpecimen(VirtualSpecimen specimen)
    {
        ArgumentNullException.ThrowIfNull(specimen);
        specimen.Validate();
        Do(() =>
        {
            RequireHandsSafe();
            _device.Physics.Grip(specimen, _options.ClampNewtons);
        });
    }

    /// <summary>Opens the grips by hand and takes out what is there.</summary>
    /// <exception cref="InvalidOperationException">The guard is closed, or something moves.</exception>
    public void RemoveSpecimen() => Do(() =>
    {
        RequireHandsSafe();
        _device.Physics.OpenGrips();
    });

    /// <summary>Opens the guard. Nothing happens where it is open or missing.</summary>
    public void OpenGuard() => Do(() => SetGuard(closed: false));

    /// <summary>Closes the guard. Nothing happens where it is closed or missing.</summary>
    public void CloseGuard() => Do(() => SetGuard(closed: true));

    /// <summary>Presses the emergency stop: the motor's power is cut.</summary>
    public void PressEmergencyStop() => Do(() =>
    {
        if (!_device.Context.EmergencyStopReleased) return;
        _device.Context.EmergencyStopReleased = false;
        _device.Context.Tell(DeviceEventCode.EmergencyStopPressed);
        _device.Motion.Fault(DeviceFaults.EmergencyStop);
    });

    /// <summary>Releases the emergency stop.</summary>
    public void ReleaseEmergencyStop() => Do(() =>
    {
        if (_device.Context.EmergencyStopReleased) return;
        _device.Context.EmergencyStopReleased = true;
        _device.Context.Tell(DeviceEventCode.EmergencyStopReleased);
    });

    /// <summary>Presses a limit's switch by hand, wherever the crosshead is, as a cut wire does too.</summary>
    public void PressLimit(bool upper) => Do(() => HoldLimit(upper, held: true));

    /// <summary>Lets go of it.</summary>
    public void LetGoOfLimit(bool upper) => Do(() => HoldLimit(upper, held: false));

    /// <summary>Switches the device off and on: a new boot number, no limits, position unknown. The cable stays plugged in.</summary>
    public void Restart() => Do(() => _device.Start(DeviceFaults.None));

    /// <summary>Lets rig time pass, in small portions, as the wall clock would have (<see cref="VirtualRigOptions.Stepped"/>
    /// only).</summary>
    /// <param name="rigTime">How much.</param>
    public void Advance(TimeSpan rigTime)
    {
        if (_pacer is not null) throw new InvalidOperationException("A rig that is not stepped goes by its clock.");
        ArgumentOutOfRangeException.ThrowIfLessThan(rigTime, TimeSpan.Zero);
        TimeSpan wall = rigTime / _options.TimeScale;
        while (wall > TimeSpan.Zero)
        {
            TimeSpan portion = wall < Pacer.Interval ? wall : Pacer.Interval;
            Pass(portion);
            wall -= portion;
        }
    }

    /// <summary>Switches the rig off and pulls its cable.</summary>
    public async ValueTask DisposeAsync()
    {
        lock (_gate)
        {
            if (_disposed) return;
            _disposed = true;
        }

        if (_pacer is not null) await _pacer.DisposeAsync().ConfigureAwait(false);
        lock (_gate) Replace(null, null);
    }

    private void Pass(TimeSpan wallElapsed)
    {
        lock (_gate)
        {
            if (_disposed) return;
            _wallNow += wallElapsed;
            PlugAgainWhenDue();
            // A late tick lets rig time slip instead of catching up in a burst; safety timers see all of the wall time.
            TimeSpan paced = wallElapsed < Pacer.CatchUpMax ? wallElapsed : Pacer.CatchUpMax;
            _device.Tick(_line, _wallNow, paced.TotalSeconds * _options.TimeScale);
        }
    }

    private void SetGuard(bool closed)
    {
        DeviceContext device = _device.Context;
        if (!_options.HasGuard || device.GuardClosed == closed) return;
        device.GuardClosed = closed;
        device.Tell(closed ? DeviceEventCode.GuardClosed : DeviceEventCode.GuardOpened);
        if (!closed && _device.Motion.State != MotionState.Still) _device.Motion.Fault(DeviceFaults.GuardOpened);
    }

    private void HoldLimit(bool upper, bool held)
    {
        DeviceContext device = _device.Context;
        bool before = upper ? device.UpperLimitReached : device.LowerLimitReached;
        if (upper) device.UpperLimitHeld = held;
        else device.LowerLimitHeld = held;
        if (held && !before) _device.Motion.LimitClosed(upper);
    }

    private void RequireHandsSafe()
    {
        if (_options.HasGuard && _device.Context.GuardClosed) throw new InvalidOperationException("Open the guard first.");
        if (_device.Motion.State != MotionState.Still) throw new InvalidOperationException("Stop the crosshead first.");
    }

    private void Replace(IDeviceLine? line, Func<IDeviceLine>? plugAgain)
    {
        _line?.Dispose();
        _line = line;
        _plugAgain = plugAgain;
    }

    private void Do(Action action)
    {
        lock (_gate) action();
    }

    private T Read<T>(Func<T> read)
    {
        lock (_gate) return read();
    }
}
