namespace RigDaq.Core.Text;

/// <content>The runs of a study on their way to a comparison: what is left out, lost, imported.</content>
internal static partial class CoreText
{
    public const string NothingToCompare = "No run gives a strength yet, so there is nothing to compare.";
    public const string TraceWithoutPeak = "its trace gave no peak force.";

    public const string SomeStrengthsExtrapolated =
        "Some strengths are extrapolated: their force lies beyond twice the greatest reference force of the calibration.";

    public static string NoRunOfReference(string condition) =>
        $"No run of the reference condition “{condition}” gives a strength: all pairs are compared instead.";

    public static string RunNamesUnknownSpecimen(string run, string specimen) =>
        $"The run {run} names the specimen {specimen}, which the study does not have; it is left out.";

    public static string BrokeWithoutStrength(string specimen, string why) => $"{specimen} broke, but has no strength: {why}";

    public static string StrengthsImported(int strengths) => $"{strengths} strengths were imported from tables and have no trace.";

    public static string RunsRecorded(int runs, int of) =>
        $"{runs} of {of} runs were read from files of other programs, without a calibration of ours: intervals leave the uncertainty of their forces out.";

    public static string BrokenTwice(string specimen, int runs) =>
        $"{specimen} has {runs} runs that broke it, which one piece cannot have: the last is used; void the wrong ones.";

    public static string BesidesBroken(string group, IEnumerable<(string Ending, int Runs)> others) =>
        $"{group}: besides the broken ones, {string.Join(", ", others.Select(other => $"{other.Runs} {other.Ending}"))}.";

    public static string EveryRunVoided(string group) => $"{group}: every run is voided, so nothing can be said of it.";

    public static string RunsVoided(string group, int voided) =>
        $"{group}: {voided} voided; see the mean with and without them. Voids are not harmless: a grip fails on strong specimens first.";

    public static string RunsUnderSeveralCalibrations(int calibrations) =>
        $"The runs were pulled under {calibrations} calibrations: the calibration's share of the uncertainty does not cancel between them, and the intervals of comparisons leave it out.";
}
