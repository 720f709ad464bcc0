namespace RigDaq.Virtual;

/// <summary>How a specimen fails.</summary>
public enum SpecimenBehaviour
{
    /// <summary>Straight up to its strength, then a sudden break within less than a sample.</summary>
    Brittle,

    /// <summary>It bends over to its peak, softens to a plateau and breaks there, below its peak.</summary>
    Yielding,
}

/// <summary>A specimen that exists only as figures. Immutable; what happens to it in the grips is kept elsewhere.</summary>
public sealed record VirtualSpecimen
{
    /// <summary>Its label.</summary>
    public required string Label { get; init; }

    /// <summary>The greatest force it bears, in newtons, above 0.</summary>
    public required double StrengthNewtons { get; init; }

    /// <summary>Its own stiffness between the grips at the start, in N/mm, above 0.</summary>
    public double StiffnessNewtonsPerMillimetre { get; init; } = 1500;

    /// <summary>How far the grips go apart before it is straight, in mm, 0 or more.</summary>
    public double SlackMillimetres { get; init; } = 0.1;

    /// <summary>How it fails.</summary>
    public SpecimenBehaviour Behaviour { get; init; }

    /// <summary>For <see cref="SpecimenBehaviour.Yielding"/>: extension at its peak as a multiple of strength over stiffness, 1.2 to
    /// 3.</summary>
    public double PeakStretch { get; init; } = 1.5;

    /// <summary>For <see cref="SpecimenBehaviour.Yielding"/>: the plateau's force as a share of the peak, 0.1 to 1.</summary>
    public double PlateauShare { get; init; } = 0.85;

    /// <summary>For <see cref="SpecimenBehaviour.Yielding"/>: extension at the break, as a multiple of the one at the peak, 2 or
    /// more.</summary>
    public double BreakStretch { get; init; } = 4;

    /// <summary>What still carries load after the break, as a share of the force at the break; 0 for a whole break. Below 1.</summary>
    public double PartialBreakShare { get; init; }

    /// <summary>How much further the grips must go until that remainder parts too, in mm; endless by default.</summary>
    public double PartialBreakTearMillimetres { get; init; } = double.PositiveInfinity;

    /// <summary>The share of the strength at which it starts to slide out of a grip; null where the grips hold. Above 0, at most
    /// 1.</summary>
    public double? SlipOutShare { get; init; }

    /// <summary>The length in the grip over which it slides out, in mm, above 0.</summary>
    public double GripLengthMillimetres { get; init; } = 8;

    /// <summary>The share of the strength at which a grip jumps once and holds again (a load drop); null where it does not.</summary>
    public double? GripJumpShare { get; init; }

    /// <summary>How far it jumps, in mm.</summary>
    public double GripJumpMillimetres { get; init; } = 0.05;

    /// <summary>A recording that is played instead of all of the above; null for a specimen that follows its figures.</summary>
    public RecordedForce? Recorded { get; init; }

    /// <summary>Says what is wrong with the figures.</summary>
    /// <exception cref="ArgumentException">A figure is outside its range; the message names it.</exception>
    public void Validate()
    {
        Require(StrengthNewtons > 0 && double.IsFinite(StrengthNewtons), nameof(StrengthNewtons), "above 0");
        Require(StiffnessNewtonsPerMillimetre > 0 && double.IsFinite(StiffnessNewtonsPerMillimetre),
            nameof(StiffnessNewtonsPerMillimetre), "above 0");
        Require(SlackMillimetres is >= 0 and < 1000, nameof(SlackMillimetres), "0 to 1,000 mm");
        Require(PeakStretch is >= 1.2 and <= 3, nameof(PeakStretch), "1.2 to 3");
        Require(PlateauShare is >= 0.1 and <= 1, nameof(PlateauShare), "0.1 to 1");
        Require(BreakStretch is >= 2 and <= 1000, nameof(BreakStretch), "2 to 1,000");
        Require(PartialBreakShare is >= 0 and < 1, nameof(PartialBreakShare), "0 to below 1");
        Require(PartialBreakTearMillimetres > 0, nameof(PartialBreakTearMillimetres), "above 0");
        Require(SlipOutShare is null or (> 0 and <= 1), nameof(SlipOutShare), "above 0, at most 1");
        Require(GripLengthMillimetres is > 0 and < 1000, nameof(GripLengthMillimetres), "above 0, below 1,000 mm");
        Require(GripJumpShare is null or (> 0 and <= 1), nameof(GripJumpShare), "above 0, at most 1");
        Require(GripJumpMillimetres is > 0 and < 100, nameof(GripJumpMillimetres), "above 0, below 100 mm");
    }

    private void Require(bool holds, string name, string range)
    {
        if (!holds) throw new ArgumentException($"Specimen {Label}: {name} has to be {range}.");
    }
}
