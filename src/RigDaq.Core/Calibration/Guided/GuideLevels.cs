namespace RigDaq.Core.Calibration.Guided;

/// <summary>What the readings so far say about where the signal ought to be.</summary>
internal static class GuideLevels
{
    /// <summary>The zero that counts now: the last that was read.</summary>
    public static double? Zero(GuideState state) => state.Taken.LastOrDefault(taken => taken.Reading.IsZero)?.Reading.Counts;

    /// <summary>Counts a newton: the median over all loaded readings; null before the first.</summary>
    public static double? CountsPerNewton(GuideState state)
    {
        var slopes = new List<double>();
        double zero = 0;
        foreach (var taken in state.Taken)
        {
            if (taken.Reading.IsZero) zero = taken.Reading.Counts;
            else slopes.Add((taken.Reading.Counts - zero) / taken.Reading.Reference.Newtons);
        }

        slopes.Sort();
        return slopes.Count == 0 ? null : slopes[slopes.Count / 2];
    }

    /// <summary>The level of the last reading, and its force.</summary>
    public static (double Counts, double Newtons)? Before(GuideState state) =>
        state.Taken.Count == 0 ? null : (state.Taken[^1].Reading.Counts, state.Taken[^1].Reading.Reference.Newtons);

    /// <summary>The force at a level, by the readings so far; null before any.</summary>
    public static double? Newtons(GuideState state, double counts) =>
        Zero(state) is { } zero && CountsPerNewton(state) is { } slope ? (counts - zero) / slope : null;

    /// <summary>How far a reading at a force may lie from the others, in newtons: the share of the plan, what the references leave open,
    /// and the noise.</summary>
    public static double MisfitNewtons(GuideState state, GuideTask task, double countsPerNewton)
    {
        // Nothing hangs: how far the zero moved is a figure of its own, only something left on the hook is wrong.
        const double ZeroShare = 0.05;
        if (task.Reference.Newtons == 0) return ZeroShare * state.Plan.Steps[0].Newtons;

        // The slope comes from other references: theirs may be off as well, the greatest weighing most.
        double open = 3 * (task.Reference.StandardUncertaintyNewtons
            + (state.Plan.Steps[^1].StandardUncertaintyNewtons * task.Reference.Newtons / state.Plan.Steps[^1].Newtons));
        double noise = 6 * (state.WanderCounts ?? 0) / Math.Abs(countsPerNewton);
        return (state.Plan.MisfitShare * task.Reference.Newtons) + open + noise;
    }
}
