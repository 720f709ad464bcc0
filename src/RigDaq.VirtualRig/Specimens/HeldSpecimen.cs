namespace RigDaq.Virtual.Specimens;

/// <summary>What became of a specimen in the grips.</summary>
public enum SpecimenFate
{
    /// <summary>It is whole.</summary>
    Whole,

    /// <summary>It has parted, but a remainder still carries load.</summary>
    PartlyParted,

    /// <summary>It has parted, or slid out: nothing carries load.</summary>
    Parted,
}

/// <summary>A specimen between two closed grips, in series with the frame and the cell. Quasi-static: at every position of the crosshead
/// one force is in balance, found from what the specimen has gone through. Deterministic, no time in it.</summary>
internal sealed class HeldSpecimen
{
    /// <summary>A bowed strip takes this share of its stiffness when it is pushed together (it buckles; ours, no source).</summary>
    private const double BucklingShare = 0.02;

    private const int BisectionsMax = 60;
    private const double BisectionMillimetres = 1e-9;

    private readonly SpecimenCurve _curve;
    private readonly double _trainStiffness;
    private readonly double _clampShift;
    private double _jump;
    private bool _jumped;
    private double _greatestExtension;
    private double _plastic;
    private double _partAtMillimetres;
    private double _remainderNewtons;
    private double _givenMillimetres;
    private double? _playedFrom;

    /// <summary>Closes the second grip.</summary>
    /// <param name="specimen">What is gripped.</param>
    /// <param name="trainStiffnessNewtonsPerMillimetre">Frame and cell in series.</param>
    /// <param name="gripMillimetres">Where the crosshead stands.</param>
    /// <param name="clampNewtons">The force that closing the grip puts on it, 0 or more.</param>
    public HeldSpecimen(VirtualSpecimen specimen, double trainStiffnessNewtonsPerMillimetre, double gripMillimetres, double clampNewtons)
    {
        Specimen = specimen;
        _curve = new SpecimenCurve(specimen);
        _trainStiffness = trainStiffnessNewtonsPerMillimetre;
        GripMillimetres = gripMillimetres;
        _clampShift = clampNewtons / Series(_trainStiffness, specimen.StiffnessNewtonsPerMillimetre);
        ForceNewtons = specimen.Recorded is null ? ForceAt(gripMillimetres) : 0;
        PeakForceNewtons = ForceNewtons;
    }

    /// <summary>What is held.</summary>
    public VirtualSpecimen Specimen { get; }

    /// <summary>Where the crosshead stood when the second grip closed, in mm.</summary>
    public double GripMillimetres { get; }

    /// <summary>What became of it.</summary>
    public SpecimenFate Fate { get; private set; }

    /// <summary>Whether its end was a sliding out.</summary>
    public bool SlidOut => _curve.IsSlipping && Fate == SpecimenFate.Parted;

    /// <summary>The force at the last position, in newtons; positive pulls.</summary>
    public double ForceNewtons { get; private set; }

    /// <summary>The greatest force it bore, in newtons.</summary>
    public double PeakForceNewtons { get; private set; }

    /// <summary>How far it has stretched itself, in mm, without frame, cell and what slid through a grip: what an extensometer on it sees
    /// its part of. When it has parted, what stays stretched.</summary>
    public double ExtensionMillimetres => Fate != SpecimenFate.Whole ? Math.Max(_plastic, 0)
        : _curve.IsSlipping ? Math.Max(ForceNewtons, 0) / Specimen.StiffnessNewtonsPerMillimetre
        : Math.Max(_givenMillimetres - (ForceNewtons / _trainStiffness), 0);

    /// <summary>The stiffness of two springs in series: 1/k = 1/k1 + 1/k2 (Hooke).</summary>
    public static double Series(double first, double second) => first * second / (first + second);

    /// <summary>Moves the crosshead there, in steps small against its curve.</summary>
    /// <param name="crossheadMillimetres">The position now.</param>
    /// <returns>The force that was let go all at once, in newtons; 0 where nothing parted.</returns>
    /// <param name="rigSeconds">Rig time, for a recording that is played.</param>
    public double MoveTo(double crossheadMillimetres, double rigSeconds = 0)
    {
        if (Specimen.Recorded is { } recorded) return Play(recorded, crossheadMillimetres, rigSeconds);
        if (Fate == SpecimenFate.Parted)
        {
            ForceNewtons = 0;
            return 0;
        }

        double before = ForceNewtons;
        ForceNewtons = ForceAt(crossheadMillimetres);
        if (Fate == SpecimenFate.PartlyParted) return EndRemainder(crossheadMillimetres, before);
        JumpOnce(crossheadMillimetres);
        PeakForceNewtons = Math.Max(PeakForceNewtons, ForceNewtons);
        return _greatestExtension >= _curve.EndMillimetres ? Part(crossheadMillimetres) : 0;
    }

    // What was recorded rings, slides and parts by itself: it only has to begin, and to be over. Until the crosshead moves nothing pulls.
    private double Play(RecordedForce recorded, double crosshead, double rigSeconds)
    {
        if (_playedFrom is null && crosshead != GripMillimetres) _playedFrom = rigSeconds;
        if (_playedFrom is not { } from) return 0;
        double played = rigSeconds - from;
        ForceNewtons = recorded.At(played);
        PeakForceNewtons = Math.Max(PeakForceNewtons, ForceNewtons);
        if (played > recorded.LastsSeconds) Fate = SpecimenFate.PartlyParted;
        return 0;
    }

    /// <summary>It slides through its grip: force goes out. A grip lets go only of what pulls at it: never further than to no
    /// force.</summary>
    public void SlideInGrip(double millimetres, double crossheadMillimetres)
    {
        if (Fate != SpecimenFate.Whole || ForceNewtons <= 0 || Specimen.Recorded is not null) return;
        double most = ForceNewtons / Series(_trainStiffness, Specimen.StiffnessNewtonsPerMillimetre);
        _jump += Math.Min(millimetres, most);
        ForceNewtons = ForceAt(crossheadMillimetres);
    }

    private double EndRemainder(double crosshead, double before)
    {
        if (crosshead < _partAtMillimetres + Specimen.PartialBreakTearMillimetres) return 0;
        Fate = SpecimenFate.Parted;
        ForceNewtons = 0;
        return Math.Max(before, 0);
    }

    private double Part(double crosshead)
    {
        double atBreak = _curve.ForceNewtons(_curve.EndMillimetres);
        PeakForceNewtons = Math.Max(PeakForceNewtons, atBreak);
        _remainderNewtons = _curve.IsSlipping ? 0 : Specimen.PartialBreakShare * atBreak;
        _partAtMillimetres = crosshead;
        Fate = _remainderNewtons > 0 ? SpecimenFate.PartlyParted : SpecimenFate.Parted;
        ForceNewtons = _remainderNewtons;
        return atBreak - _remainderNewtons;
    }

    private void JumpOnce(double crosshead)
    {
        if (_jumped || Specimen.GripJumpShare is not { } share || ForceNewtons < share * Specimen.StrengthNewtons) return;
        _jumped = true;
        SlideInGrip(Specimen.GripJumpMillimetres, crosshead);
    }

    private double ForceAt(double crosshead)
    {
        double opened = crosshead - GripMillimetres;
        if (Fate == SpecimenFate.PartlyParted)
        {
            // The remainder holds its force while it is drawn out, and lets go of it elastically on the way back.
            double back = Math.Max(0, _partAtMillimetres - crosshead);
            return Math.Max(0, _remainderNewtons - (back * Series(_trainStiffness, Specimen.StiffnessNewtonsPerMillimetre)));
        }

        double slack = Specimen.SlackMillimetres;
        double taut = opened > slack ? opened - slack : Math.Min(opened, 0);
        return Balance(taut + _clampShift - _jump);
    }

    // Extension of the specimen plus that of frame and cell is what the crosshead gave: e + F(e)/k = given.
    private double Balance(double given)
    {
        _givenMillimetres = given;
        double stiffness = Specimen.StiffnessNewtonsPerMillimetre;
        double elastic = Series(_trainStiffness, stiffness) * (given - _plastic);
        double elasticExtension = elastic < 0 ? given : given - (elastic / _trainStiffness);
        if (elastic < 0) return BucklingShare * elastic;
        if (elasticExtension <= _greatestExtension) return elastic;
        double extension = _curve.IsStraight ? elasticExtension : FirstLoading(given);
        _greatestExtension = extension;
        double force = _curve.ForceNewtons(extension);
        _plastic = Math.Min(extension, _curve.EndMillimetres) - (force / stiffness);
        return force;
    }

    // Bisection: the left side rises with e as long as the train is stiffer than the curve's steepest fall.
    private double FirstLoading(double given)
    {
        double low = _greatestExtension, high = Math.Max(given, low);
        if (high >= _curve.EndMillimetres
            && _curve.EndMillimetres + (_curve.ForceNewtons(_curve.EndMillimetres) / _trainStiffness) <= given)
            return _curve.EndMillimetres;
        for (int i = 0; i < BisectionsMax && high - low > BisectionMillimetres; i++)
        {
            double middle = 0.5 * (low + high);
            if (middle + (_curve.ForceNewtons(middle) / _trainStiffness) < given) low = middle;
            else high = middle;
        }

        return 0.5 * (low + high);
    }
}
