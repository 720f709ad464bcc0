using RigDaq.Core.Strength;

namespace RigDaq.Rig.Sequencing;

/// <summary>Whether a plan is in order, before anything is asked of the rig.</summary>
internal static class PlanCheck
{
    /// <summary>The greatest time limit of a pull, in seconds.</summary>
    public const double TimeLimitSecondsMax = 3_600;

    /// <summary>What is wrong with it, each named; empty where nothing is.</summary>
    public static IReadOnlyList<string> Problems(SequencePlan plan)
    {
        var problems = new List<string>();
        if (string.IsNullOrWhiteSpace(plan.SequenceId)) problems.Add("The sequence has no id.");
        if (string.IsNullOrWhiteSpace(plan.StudyId)) problems.Add("The sequence names no study.");
        if (plan.SpecimenIds.Count == 0) problems.Add("The sequence has no specimens: name at least one.");
        if (plan.SpecimenIds.Count > SequencePlan.SpecimensMax)
            problems.Add($"The sequence has {plan.SpecimenIds.Count} specimens; at most {SequencePlan.SpecimensMax} are possible.");
        foreach (IGrouping<string, string> twice in plan.SpecimenIds.GroupBy(id => id, StringComparer.Ordinal).Where(g => g.Count() > 1))
            problems.Add($"Specimen \"{twice.Key}\" is named {twice.Count()} times: each can be pulled once.");
        if (plan.SpecimenIds.Any(string.IsNullOrWhiteSpace)) problems.Add("A specimen has no label.");
        if (plan.AnnouncedDelay < SequencePlan.AnnouncedDelayMin || plan.AnnouncedDelay > SequencePlan.AnnouncedDelayMax)
        {
            problems.Add($"The announced delay is {plan.AnnouncedDelay.TotalSeconds} s; {SequencePlan.AnnouncedDelayMin.TotalSeconds} to "
                + $"{SequencePlan.AnnouncedDelayMax.TotalSeconds} s are possible.");
        }

        Check(plan.Settings, problems);
        if (plan.ClampingForceMaxNewtons is { } clamp && !(clamp > 0 && clamp < plan.Settings.ForceLimitNewtons))
            problems.Add("The greatest clamping force must be above 0 N and below the force limit.");
        return problems;
    }

    private static void Check(PullSettings settings, List<string> problems)
    {
        Positive(settings.SpeedMillimetresPerSecond, "pull speed", "mm/s", problems);
        Positive(settings.SlackSpeedMillimetresPerSecond, "slack speed", "mm/s", problems);
        Positive(settings.ReturnSpeedMillimetresPerSecond, "return speed", "mm/s", problems);
        Positive(settings.AccelerationMillimetresPerSecondSquared, "acceleration", "mm/s²", problems);
        Positive(settings.ForceLimitNewtons, "force limit", "N", problems);
        Positive(settings.CompressionLimitNewtons, "compression limit", "N", problems);
        Positive(settings.TravelLimitMillimetres, "travel limit", "mm", problems);
        Positive(settings.TimeLimitSeconds, "time limit", "s", problems);
        Positive(settings.ZeroSeconds, "zero window", "s", problems);
        Positive(settings.PreloadNewtons, "preload", "N", problems);
        if (settings.TimeLimitSeconds > TimeLimitSecondsMax) problems.Add($"The time limit is at most {TimeLimitSecondsMax} s.");
        if (settings.ZeroSeconds > 60) problems.Add("The zero window is at most 60 s.");
        if (settings.PreloadNewtons >= settings.ForceLimitNewtons) problems.Add("The preload must be below the force limit.");
        try
        {
            settings.Detection.Validate();
        }
        catch (ArgumentOutOfRangeException e)
        {
            problems.Add(e.Message);
        }
    }

    private static void Positive(double value, string name, string unit, List<string> problems)
    {
        if (!(value > 0) || !double.IsFinite(value)) problems.Add($"The {name} is {value} {unit}; it must be above 0.");
    }
}
