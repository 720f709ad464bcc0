using RigDaq.Core;
using RigDaq.Core.Pulls;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.Sequencing;

/// <summary>Whether a plan is in order, before anything is asked of the rig.</summary>
internal static class PlanCheck
{
    /// <summary>The greatest time limit of a pull, in seconds.</summary>
    public const double TimeLimitSecondsMax = 3_600;

    /// <summary>What is wrong with it, each named; empty where nothing is.</summary>
    public static IReadOnlyList<Sentence> Problems(SequencePlan plan)
    {
        var problems = new List<Sentence>();
        if (string.IsNullOrWhiteSpace(plan.SequenceId)) problems.Add(RigText.NoSequenceId);
        if (string.IsNullOrWhiteSpace(plan.StudyId)) problems.Add(RigText.NoStudyNamed);
        if (plan.SpecimenIds.Count == 0) problems.Add(RigText.NoSpecimens);
        if (plan.SpecimenIds.Count > SequencePlan.SpecimensMax)
            problems.Add(RigText.TooManySpecimens(plan.SpecimenIds.Count, SequencePlan.SpecimensMax));
        foreach (IGrouping<string, string> twice in plan.SpecimenIds.GroupBy(id => id, StringComparer.Ordinal).Where(g => g.Count() > 1))
            problems.Add(RigText.SpecimenNamedTwice(twice.Key, twice.Count()));
        if (plan.SpecimenIds.Any(string.IsNullOrWhiteSpace)) problems.Add(RigText.SpecimenWithoutLabel);
        if (plan.AnnouncedDelay < SequencePlan.AnnouncedDelayMin || plan.AnnouncedDelay > SequencePlan.AnnouncedDelayMax)
        {
            problems.Add(RigText.AnnouncedDelayOutside(plan.AnnouncedDelay.TotalSeconds, SequencePlan.AnnouncedDelayMin.TotalSeconds,
                SequencePlan.AnnouncedDelayMax.TotalSeconds));
        }

        Check(plan.Settings, problems);
        if (plan.ClampingForceMaxNewtons is { } clamp && !(clamp > 0 && clamp < plan.Settings.ForceLimitNewtons))
            problems.Add(RigText.ClampingForceMaxOutside);
        return problems;
    }

    private static void Check(PullSettings settings, List<Sentence> problems)
    {
        Positive(settings.SpeedMillimetresPerSecond, RigText.PullSpeed, RigText.OfSpeed, problems);
        Positive(settings.SlackSpeedMillimetresPerSecond, RigText.SlackSpeed, RigText.OfSpeed, problems);
        Positive(settings.ReturnSpeedMillimetresPerSecond, RigText.ReturnSpeed, RigText.OfSpeed, problems);
        Positive(settings.AccelerationMillimetresPerSecondSquared, RigText.AccelerationOfPull, RigText.OfAcceleration, problems);
        Positive(settings.ForceLimitNewtons, RigText.ForceLimit, RigText.OfForce, problems);
        Positive(settings.CompressionLimitNewtons, RigText.CompressionLimit, RigText.OfForce, problems);
        Positive(settings.TravelLimitMillimetres, RigText.TravelLimit, RigText.OfLength, problems);
        Positive(settings.TimeLimitSeconds, RigText.TimeLimit, RigText.OfTime, problems);
        Positive(settings.ZeroSeconds, RigText.ZeroWindow, RigText.OfTime, problems);
        Positive(settings.PreloadNewtons, RigText.PreloadForce, RigText.OfForce, problems);
        if (settings.TimeLimitSeconds > TimeLimitSecondsMax) problems.Add(RigText.TimeLimitTooLong(TimeLimitSecondsMax));
        if (settings.ZeroSeconds > 60) problems.Add(RigText.ZeroWindowTooLong);
        if (settings.PreloadNewtons >= settings.ForceLimitNewtons) problems.Add(RigText.PreloadTooHigh);
        try
        {
            settings.Detection.Validate();
        }
        catch (RefusalException e)
        {
            problems.AddRange(e.Reasons);
        }
    }

    private static void Positive(double value, Sentence name, Func<double, Sentence> figure, List<Sentence> problems)
    {
        if (!(value > 0) || !double.IsFinite(value)) problems.Add(RigText.NotAboveZero(name, figure(value)));
    }
}
