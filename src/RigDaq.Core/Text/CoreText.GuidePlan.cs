namespace RigDaq.Core.Text;

/// <content>The plan of a guided calibration: what it leaves unknown, and which figure is out of range.</content>
internal static partial class CoreText
{
    public const string GuidePlanOneSeries = "With one rising series the repeatability is not known, and there is no class.";
    public const string GuidePlanTwoSeries = "With two rising series the repeatability is known poorly; three are usual.";
    public const string GuidePlanNoFalling = "Without a falling series the reversibility is not known.";
    public const string GuidePlanNoDwell = "Without a dwell the creep is not known.";
    public const string GuidePlanFewSteps = "With fewer than five steps from 20 to 100 % of the greatest force there is no class.";

    public const string GuidePlanStepsRise = "The steps rise, all above 0 N.";
    public const string GuidePlanPreloadRange = "1 to 10 preload cycles.";
    public const string GuidePlanRisingRange = "1 to 10 rising series.";
    public const string GuidePlanFallingRange = "A falling series needs its rising one.";
    public const string GuidePlanStillRange = "A reading takes 0.2 to 60 s.";
    public const string GuidePlanDwellRange = "The dwell lasts 0 to 600 s.";
    public const string GuidePlanZeroReturnRange = "The zero return is read 0 to 600 s after unloading.";
    public const string GuidePlanWarmUpRange = "The drift is looked at over 1 to 600 s.";
    public const string GuidePlanDriftRange = "The drift limit is above 0.";
    public const string GuidePlanMisfitRange = "The misfit share lies between 0 and 0.1.";

    public const string GuidePlanNoWeights = "There are no weights.";

    public static string GuidePlanStepsRange(int stepsMax) => $"A series has 2 to {stepsMax} steps.";

    public static string GuidePlanStepsWanted(int stepsMax) => $"2 to {stepsMax} steps.";
}
