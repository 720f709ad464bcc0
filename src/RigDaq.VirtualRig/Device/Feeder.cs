using RigDaq.Protocol.Messages;
using RigDaq.Virtual.Randomness;

namespace RigDaq.Virtual.Device;

/// <summary>The feeder: takes out what is left, puts the next specimen into the near grip, closes the far grip on it. Before that the far
/// grip is open, so that a zero can be taken without any force on the cell.</summary>
internal sealed class Feeder(DeviceContext device, SeededRandom random)
{
    /// <summary>Specimens that may wait.</summary>
    public const int QueueMax = 100_000;

    private const double GripsOpenShare = 0.2;
    private const double GripsCloseShare = 0.8;
    private readonly Queue<VirtualSpecimen> _waiting = new();
    private double _beganAt;
    private bool _opened;
    private bool _closed;

    /// <summary>How many it has put in since its start.</summary>
    public int Loaded { get; private set; }

    /// <summary>How many wait.</summary>
    public int Waiting => _waiting.Count;

    /// <summary>Puts a specimen at the end of the queue.</summary>
    public void Add(VirtualSpecimen specimen)
    {
        specimen.Validate();
        if (_waiting.Count >= QueueMax) throw new InvalidOperationException($"The feeder holds {QueueMax} specimens at most.");
        _waiting.Enqueue(specimen);
    }

    /// <summary>Begins.</summary>
    public void Begin()
    {
        _beganAt = device.Physics.RigSeconds;
        _opened = _closed = false;
    }

    /// <summary>Goes on as far as rig time has come.</summary>
    /// <returns>True once it is done.</returns>
    public bool Step()
    {
        double share = (device.Physics.RigSeconds - _beganAt) / device.Options.FeedSeconds;
        if (share >= GripsOpenShare && !_opened)
        {
            _opened = true;
            device.Physics.OpenGrips();
            if (_waiting.Count == 0)
            {
                device.Tell(DeviceEventCode.FeederEmpty);
                return true;
            }
        }

        if (share >= GripsCloseShare && !_closed)
        {
            _closed = true;
            double clamp = device.Options.ClampNewtons * (0.5 + random.NextUniform());
            device.Physics.Grip(_waiting.Dequeue(), clamp);
            Loaded++;
        }

        if (share < 1) return false;
        device.Tell(DeviceEventCode.SpecimenLoaded, Loaded);
        return true;
    }

    /// <summary>A restart: its count begins anew, its magazine stays.</summary>
    public void Start() => Loaded = 0;
}
