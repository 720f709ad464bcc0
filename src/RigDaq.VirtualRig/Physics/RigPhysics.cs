using RigDaq.Virtual.Randomness;
using RigDaq.Virtual.Specimens;

namespace RigDaq.Virtual.Physics;

/// <summary>Frame, crosshead, specimen and cell together, advanced step by step in rig time. No clock, no thread, no wire: the same seed
/// and the same calls give the same counts.</summary>
internal sealed class RigPhysics
{
    private const int BreaksKept = 10_000;
    private readonly double _trainStiffness;
    private readonly LoadCell _cell;
    private readonly RingDown _ring;
    private readonly PastForces _past = new();
    private readonly List<VirtualBreak> _breaks = [];
    private HangingMass? _mass;
    private HeldSpecimen? _held;
    private bool _told;

    public RigPhysics(VirtualRigOptions options)
    {
        _trainStiffness = HeldSpecimen.Series(options.FrameStiffnessNewtonsPerMillimetre, options.CellStiffnessNewtonsPerMillimetre);
        _cell = new LoadCell(options, new SeededRandom(SeedMixer.Mix(options.Seed, "converter")));
        _ring = new RingDown(options);
        Crosshead = new Crosshead(options.StartMillimetres);
    }

    /// <summary>The crosshead, in true millimetres.</summary>
    public Crosshead Crosshead { get; }

    /// <summary>Rig time since the beginning, in seconds.</summary>
    public double RigSeconds { get; private set; }

    /// <summary>The true force on the cell, in newtons; positive pulls.</summary>
    public double TrueForceNewtons { get; private set; }

    /// <summary>What is in the grips, or null.</summary>
    public HeldSpecimen? Held => _held;

    /// <summary>The converter's greatest count.</summary>
    public int CountsMax => _cell.CountsMax;

    /// <summary>The specimens that parted or slid out, in order, the last ten thousand.</summary>
    public IReadOnlyList<VirtualBreak> Breaks => _breaks;

    /// <summary>How many specimens parted or slid out.</summary>
    public int BreakCount { get; private set; }

    /// <summary>Closes the second grip on a specimen.</summary>
    public void Grip(VirtualSpecimen specimen, double clampNewtons)
    {
        _held = new HeldSpecimen(specimen, _trainStiffness, Crosshead.PositionMillimetres, clampNewtons);
        _told = false;
        Weigh();
    }

    /// <summary>Opens the grips and takes out what is in them.</summary>
    public void OpenGrips()
    {
        _held = null;
        Weigh();
    }

    /// <summary>Lets what is held slide through its grip.</summary>
    public void Slide(double millimetres)
    {
        _held?.SlideInGrip(millimetres, Crosshead.PositionMillimetres);
        Weigh();
    }

    /// <summary>Hangs a mass on the hook, or takes it off.</summary>
    public void Hang(HangingMass? mass)
    {
        _mass = mass;
        Weigh();
    }

    /// <summary>One conversion that ends now: of the mean force over so many of the last steps.</summary>
    public int Convert(int steps) => _cell.Convert(_past.Mean(steps), RigSeconds);

    /// <summary>Lets rig time pass, in one step of the mechanics: at most a millisecond or so, which is shorter than any curve's feature at
    /// the speeds of a screw.</summary>
    public void Step(double seconds)
    {
        Crosshead.Advance(seconds);
        RigSeconds += seconds;
        if (_held is not null)
        {
            double letGo = _held.MoveTo(Crosshead.PositionMillimetres, RigSeconds);
            if (letGo > 0) _ring.Strike(letGo, RigSeconds);
            if (_held.Fate != SpecimenFate.Whole && !_told) Tell(_held);
        }

        Weigh();
        _past.Add(TrueForceNewtons);
        _cell.Creep(TrueForceNewtons, seconds);
    }

    private void Tell(HeldSpecimen held)
    {
        _told = true;
        BreakCount++;
        if (_breaks.Count == BreaksKept) _breaks.RemoveAt(0);
        _breaks.Add(new VirtualBreak(held.Specimen, held.PeakForceNewtons, RigSeconds, held.SlidOut));
    }

    private void Weigh() => TrueForceNewtons =
        (_held?.ForceNewtons ?? 0) + (_mass?.ForceNewtons(RigSeconds) ?? 0) + _ring.ForceNewtons(RigSeconds);
}
