using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.References;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Calibration.Guided;

/// <summary>What a guided calibration goes through. Times are on the device's clock.</summary>
public sealed record GuidePlan
{
    /// <summary>The most steps of a series.</summary>
    public const int StepsMax = 20;

    /// <summary>What the names of the preloads' series begin with. A token: it is kept with the readings, and tells which are not
    /// fitted.</summary>
    internal const string PreloadSeries = "preload";

    /// <summary>The forces of a series, rising, all above 0.</summary>
    public required IReadOnlyList<ReferenceForce> Steps { get; init; }

    /// <summary>How often the greatest force is hung and taken off before anything counts, 1 to 10 (the first tells the slope).</summary>
    public int PreloadCycles { get; init; } = 3;

    /// <summary>Rising series, 1 to 10; three by default, fewer to be quick.</summary>
    public int RisingSeries { get; init; } = 3;

    /// <summary>How many of them, the last ones, are also taken falling; 0 to <see cref="RisingSeries"/>.</summary>
    public int FallingSeries { get; init; } = 1;

    /// <summary>How long the signal must be still for a reading, in seconds (at least eight means of four samples are looked at).</summary>
    public double StillSeconds { get; init; } = 2;

    /// <summary>How long the greatest force hangs before its creep is read, in seconds; 0 to leave the creep unknown.</summary>
    public double DwellSeconds { get; init; } = 30;

    /// <summary>How long after unloading the zero return is read, in seconds.</summary>
    public double ZeroReturnSeconds { get; init; } = 30;

    /// <summary>Over how long the drift of the zero is looked at before the start, in seconds.</summary>
    public double WarmUpSeconds { get; init; } = 60;

    /// <summary>The drift of the zero that counts as warm, in counts a minute; null to take it from the signal: once its standard deviation
    /// in a minute.</summary>
    public double? DriftLimitCountsPerMinute { get; init; }

    /// <summary>A reading farther from the others than this share of its force (and what the references leave open) is asked for
    /// again.</summary>
    public double MisfitShare { get; init; } = 0.005;

    /// <summary>What is not known after a plan as short as this one, said before it is begun.</summary>
    public IReadOnlyList<Sentence> NotKnown()
    {
        var notes = new List<Sentence>();
        if (RisingSeries == 1) notes.Add(CoreText.GuidePlanOneSeries);
        if (RisingSeries == 2) notes.Add(CoreText.GuidePlanTwoSeries);
        if (FallingSeries == 0) notes.Add(CoreText.GuidePlanNoFalling);
        if (DwellSeconds <= 0) notes.Add(CoreText.GuidePlanNoDwell);
        if (Steps.Count(step => step.Newtons >= 0.198 * Steps[^1].Newtons) < 5) notes.Add(CoreText.GuidePlanFewSteps);
        return notes;
    }

    /// <summary>The plan itself, if every figure is in its range.</summary>
    /// <exception cref="RefusalException">A figure is out of range; says which.</exception>
    public static GuidePlan Checked(GuidePlan plan)
    {
        Require(plan.Steps.Count is >= 2 and <= StepsMax, CoreText.GuidePlanStepsRange(StepsMax));
        Require(plan.Steps[0].Newtons > 0 && plan.Steps.Zip(plan.Steps.Skip(1)).All(pair => pair.Second.Newtons > pair.First.Newtons),
            CoreText.GuidePlanStepsRise);
        Require(plan.PreloadCycles is >= 1 and <= 10, CoreText.GuidePlanPreloadRange);
        Require(plan.RisingSeries is >= 1 and <= 10, CoreText.GuidePlanRisingRange);
        Require(plan.FallingSeries >= 0 && plan.FallingSeries <= plan.RisingSeries, CoreText.GuidePlanFallingRange);
        Require(plan.StillSeconds is >= 0.2 and <= 60, CoreText.GuidePlanStillRange);
        Require(plan.DwellSeconds is >= 0 and <= 600, CoreText.GuidePlanDwellRange);
        Require(plan.ZeroReturnSeconds is >= 0 and <= 600, CoreText.GuidePlanZeroReturnRange);
        Require(plan.WarmUpSeconds is >= 1 and <= 600, CoreText.GuidePlanWarmUpRange);
        Require(plan.DriftLimitCountsPerMinute is null or > 0, CoreText.GuidePlanDriftRange);
        Require(plan.MisfitShare is > 0 and <= 0.1, CoreText.GuidePlanMisfitRange);
        return plan;

        static void Require(bool holds, Sentence what)
        {
            if (!holds) throw new RefusalException(what);
        }
    }

    /// <summary>What is done, in order.</summary>
    public IReadOnlyList<GuideTask> Tasks()
    {
        var tasks = new List<GuideTask>();
        var greatest = Steps[^1];
        for (int cycle = 1; cycle <= PreloadCycles; cycle++)
        {
            string series = $"{PreloadSeries} {cycle}";
            tasks.Add(new GuideTask(GuideTaskKind.Zero, series, LoadDirection.Rising, ReferenceForce.Zero, false));
            tasks.Add(new GuideTask(GuideTaskKind.Preload, series, LoadDirection.Rising, greatest, false));
        }

        for (int number = 1; number <= RisingSeries; number++)
        {
            string series = number.ToString(System.Globalization.CultureInfo.InvariantCulture);
            tasks.Add(new GuideTask(GuideTaskKind.Zero, series, LoadDirection.Rising, ReferenceForce.Zero, false));
            foreach (var step in Steps)
                tasks.Add(new GuideTask(GuideTaskKind.Load, series, LoadDirection.Rising, step, DwellSeconds > 0
                    && ReferenceEquals(step, greatest)));
            if (number > RisingSeries - FallingSeries)
            {
                foreach (var step in Steps.SkipLast(1).Reverse())
                    tasks.Add(new GuideTask(GuideTaskKind.Load, series, LoadDirection.Falling, step, false));
            }

            tasks.Add(new GuideTask(GuideTaskKind.ZeroReturn, series, LoadDirection.Falling, ReferenceForce.Zero, false));
        }

        return tasks;
    }
}

/// <summary>What a task is.</summary>
public enum GuideTaskKind
{
    /// <summary>Nothing hangs: the zero of a series.</summary>
    Zero,

    /// <summary>The greatest force hangs, to seat everything; not fitted.</summary>
    Preload,

    /// <summary>A force hangs and is read.</summary>
    Load,

    /// <summary>Nothing hangs any more: the zero's return.</summary>
    ZeroReturn,
}

/// <summary>One thing to do.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Series">The series.</param>
/// <param name="Direction">From below or from above.</param>
/// <param name="Reference">The force that is to hang.</param>
/// <param name="Dwell">Whether the creep is read.</param>
public sealed record GuideTask(GuideTaskKind Kind, string Series, LoadDirection Direction, ReferenceForce Reference, bool Dwell)
{
    /// <summary>What a person is to do.</summary>
    public Sentence Instruction => Kind switch
    {
        GuideTaskKind.Zero or GuideTaskKind.ZeroReturn => CoreText.GuideTakeAllOff,
        _ when Direction == LoadDirection.Falling => CoreText.GuideTakeOff(Reference.Description, Reference.Newtons),
        _ => CoreText.GuideHang(Reference.Description, Reference.Newtons),
    };
}
