namespace RigDaq.Core.Calibration.Quality;

/// <summary>All that the uncertainty of a force under a calibration is computed from.</summary>
public sealed record UncertaintyModel
{
    /// <summary>Whether the first coefficient is a constant.</summary>
    public bool Constant { get; init; }

    /// <summary>The curve's coefficients.</summary>
    public required IReadOnlyList<double> Coefficients { get; init; }

    /// <summary>The coefficients' covariance from the scatter, points of a series sharing the error of its zero.</summary>
    public required IReadOnlyList<IReadOnlyList<double>> ScatterCovariance { get; init; }

    /// <summary>The variance of one reading in N², a zero being as uncertain as a reading; null in records from before it was
    /// kept.</summary>
    public double? ScatterVarianceSquareNewtons { get; init; }

    /// <summary>Their degrees of freedom.</summary>
    public required double ScatterDegreesOfFreedom { get; init; }

    /// <summary>The coefficients' covariance from the references, source by source; empty where the references' uncertainty is not
    /// known.</summary>
    public required IReadOnlyList<ReferenceShift> ReferenceShifts { get; init; }

    /// <summary>The greatest reference force in newtons.</summary>
    public required double GreatestReferenceNewtons { get; init; }

    /// <summary>The line that a fit like the calibration's lays through a cell's bend F² at its reference forces F: its slope in newtons,
    /// with a constant that (in N²) before it. Only in records from before <see cref="Shape"/> was kept.</summary>
    public IReadOnlyList<double> BendLine { get; init; } = [];

    /// <summary>What the references tell about the cell's shape beside the curve; null in records from before it was kept.</summary>
    public CellShape? Shape { get; init; }

    /// <summary>By how much the coefficients shift when the converter's rounding of one step's readings, or of the zeros, is off by one
    /// standard uncertainty; empty where its step is one count.</summary>
    public IReadOnlyList<ReferenceShift> StepShifts { get; init; } = [];

    /// <summary>Resolution r in counts.</summary>
    public required double ResolutionCounts { get; init; }

    /// <summary>The standard uncertainty of one reading less its zero, in counts, from the converter's step and the fluctuation; null in
    /// records from before it was kept (then r/√6).</summary>
    public double? ReadingStandardCounts { get; init; }

    /// <summary>The converter's step in counts where it is a coarse one: one reading's rounding, within ± half of it, is in the
    /// above.</summary>
    public double? ReadingStepCounts { get; init; }

    /// <summary>The degrees of freedom of the whole; null for (practically) infinitely many, and in records from before it was
    /// kept.</summary>
    public double? ReadingDegreesOfFreedom { get; init; }

    /// <summary>By how much one sample's standard deviation grows with the force, in counts per newton, quadratically added; null where no
    /// window under load shows it.</summary>
    public double? ReadingGrowthCountsPerNewton { get; init; }

    /// <summary>Its degrees of freedom.</summary>
    public double? ReadingGrowthDegreesOfFreedom { get; init; }

    /// <summary>|v| as a force at each step where it is known.</summary>
    public IReadOnlyList<ForcePoint> ReversibilityNewtons { get; init; } = [];

    /// <summary>The greatest shift of the zero over a series, in newtons; null where it is not known.</summary>
    public double? ZeroDriftNewtons { get; init; }

    /// <summary>The root mean square of the zeros' returns, in newtons; null where no zero was read after unloading, and in records from
    /// before it was kept.</summary>
    public double? ZeroReturnNewtons { get; init; }

    /// <summary>How many zeros were read after unloading.</summary>
    public int ZeroReturns { get; init; }

    /// <summary>The greatest creep over the dwell, in per cent of the force; null where it is not known.</summary>
    public double? CreepPercent { get; init; }

    /// <summary>What a person knows of the cell and the room.</summary>
    public UncertaintyInputs Inputs { get; init; } = new();
}

/// <summary>By how much the coefficients shift when one source of the reference forces is off by one standard uncertainty.</summary>
/// <param name="Source">The source, as in the references' shares.</param>
/// <param name="CoefficientShifts">One a coefficient, signed.</param>
public sealed record ReferenceShift(string Source, IReadOnlyList<double> CoefficientShifts);

/// <summary>A figure at a force.</summary>
/// <param name="ForceNewtons">The force.</param>
/// <param name="ValueNewtons">The figure.</param>
public sealed record ForcePoint(double ForceNewtons, double ValueNewtons);
