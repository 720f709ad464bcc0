namespace RigDaq.Core.Calibration.Guided;

/// <summary>Whether a stretch of the signal is still, judged by what the signal does at rest.</summary>
internal static class GuideStillness
{
    // Above what rest shows: four standard deviations of the means for a change, three for the scatter, and one count for a quiet
    // converter.
    private const double ChangeDeviations = 4, WanderDeviations = 3, NoiseDeviations = 3, QuietCounts = 1;

    // A loaded cell creeps; the creep is read, not waited for. Shares of the deflection.
    private const double CreepShare = 2e-4, WanderShare = 5e-5, NoiseShare = 2e-4;

    public static bool Holds(GuideState state, WindowReading window)
    {
        double deflection = GuideLevels.Zero(state) is { } zero ? Math.Abs(window.MeanCounts - zero) : 0;
        double wander = state.WanderCounts ?? window.StepCounts;
        double noise = state.NoiseCounts ?? window.NoiseCounts;
        return Math.Abs(window.CountsPerSecond) * window.Seconds <= (ChangeDeviations * wander) + (CreepShare * deflection) + QuietCounts
            && window.WanderCounts <= (WanderDeviations * wander) + (WanderShare * deflection) + QuietCounts
            && window.NoiseCounts <= (NoiseDeviations * noise) + (NoiseShare * deflection) + QuietCounts;
    }
}
