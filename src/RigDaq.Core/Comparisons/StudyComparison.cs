using RigDaq.Core.Groups;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Questions;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Comparisons;

/// <summary>What a study's runs say.</summary>
/// <param name="Answer">Voided runs left out; null where there is no strength at all.</param>
/// <param name="WithVoids">The same with voided runs that have a strength left in; null where none is voided.</param>
/// <param name="Counts">How the runs of each group ended and how many are voided.</param>
/// <param name="Warnings">What a person should know beyond the answer's own warnings.</param>
/// <param name="Strengths">Every strength that was used or voided, in the order of pulling.</param>
public sealed record StudyAnswer(ComparisonAnswer? Answer, ComparisonAnswer? WithVoids, IReadOnlyList<GroupCounts> Counts,
    IReadOnlyList<Sentence> Warnings, IReadOnlyList<SpecimenStrength> Strengths)
{
    /// <summary>Group means as absolute MPa, with what the calibration adds; comparisons leave that out, because it cancels between runs
    /// under one calibration.</summary>
    public IReadOnlyList<AbsoluteMean> AbsoluteMeans { get; init; } = [];
}

/// <summary>A group's mean as an absolute figure.</summary>
/// <param name="Group">The group.</param>
/// <param name="MeanMegapascals">The mean in MPa.</param>
/// <param name="CalibrationStandardUncertaintyMegapascals">The share in MPa of calibration, caliper and alignment, common to all of its
/// specimens; null where not known.</param>
/// <param name="LowMegapascals">The lower end of the interval joined with that share at k = 2; null where there is no interval.</param>
/// <param name="HighMegapascals">Its upper end.</param>
public sealed record AbsoluteMean(GroupKey Group, double MeanMegapascals, double? CalibrationStandardUncertaintyMegapascals,
    double? LowMegapascals, double? HighMegapascals);

/// <summary>Compares the groups of a study by its runs. Pure: what it returns changes only when study or runs do.</summary>
public static class StudyComparison
{
    /// <summary>Compares, by the study's reference condition, margin and planned comparisons.</summary>
    /// <param name="study">The study.</param>
    /// <param name="runs">The latest revisions of its runs, in the order they were pulled.</param>
    /// <param name="confidencePercent">Of intervals; α is what is missing to 100.</param>
    /// <param name="endings">Which endings give a strength; null for broken only.</param>
    /// <param name="units">What sentences are written in; null for SI. Figures stay MPa.</param>
    /// <param name="questions">Which questions are answered; null for all. Without any no model is fitted.</param>
    /// <param name="earlier">Earlier studies that its groups are set against beside those that the study itself names.</param>
    public static StudyAnswer Of(Study study, IReadOnlyList<Run> runs, double confidencePercent = 95,
        IReadOnlySet<PullEnding>? endings = null, Units? units = null, IReadOnlyList<string>? questions = null,
        IReadOnlyList<EarlierStudy>? earlier = null)
    {
        var warnings = new List<Sentence>();
        StudyRuns collected = StudyRuns.Collect(study, runs, endings ?? StudyRuns.BrokenOnly, warnings);
        ComparisonOptions options = OptionsOf(study, confidencePercent) with
        {
            Units = units ?? Units.Si,
            Questions = questions,
            Earlier = [.. study.Earlier.Where(e => e.PooledBecause is null).Select(EarlierResults.ToStudy), .. earlier ?? []],
        };
        SpecimenStrength[] kept = [.. collected.Strengths.Where(s => s.Void is null)];
        ComparisonAnswer? answer = Compare(study, runs, kept, options, warnings);
        ComparisonAnswer? withVoids = kept.Length == collected.Strengths.Count ? null
            : Compare(study, runs, collected.Strengths, options with { Questions = [] }, []);
        IReadOnlyList<AbsoluteMean> absolute = AbsoluteMeanMaker.Of(answer, runs, kept, warnings);
        return new StudyAnswer(answer, withVoids, collected.Counts, [.. warnings.Distinct()], collected.Strengths)
        {
            AbsoluteMeans = absolute,
        };
    }

    /// <summary>How a study is compared.</summary>
    public static ComparisonOptions OptionsOf(Study study, double confidencePercent = 95) => new()
    {
        ReferenceCondition = study.ReferenceCondition,
        Planned = study.PlannedComparisons,
        MarginPercent = study.EquivalenceMarginPercent,
        ConfidencePercent = confidencePercent,
        ReferenceSetting = study.ReferenceSetting,
        ReferenceMaterial = study.ReferenceMaterial,
        KeepsPercent = study.KeepsPercent,
        Frozen = StudyQuestions.FrozenOf(study),
        SettingUnit = study.SettingUnit,
        Control = study.Control,
    };

    private static ComparisonAnswer? Compare(Study study, IReadOnlyList<Run> runs, IReadOnlyList<SpecimenStrength> strengths,
        ComparisonOptions options, List<Sentence> warnings)
    {
        if (strengths.Count == 0)
        {
            warnings.Add(CoreText.NothingToCompare);
            return null;
        }

        if (options.ReferenceCondition is { } reference && strengths.All(s => s.Group.Condition != reference))
        {
            warnings.Add(CoreText.NoRunOfReference(reference));
            options = options with { ReferenceCondition = null };
        }

        IReadOnlyList<Observation> observations = StudyQuestions.Observations(study, strengths, runs);
        HashSet<GroupKey> groups = [.. study.Groups()];
        foreach (EarlierResult pooled in study.Earlier.Where(e => e.PooledBecause is not null))
        {
            Observation[] pooledObservations = [.. EarlierResults.Pooled(pooled, groups)];
            observations = [.. observations, .. pooledObservations];
            warnings.Add(CoreText.EarlierPooled(pooledObservations.Length, pooled.Title, pooled.PooledBecause!));
        }

        return Comparer.Compare(observations, options, StudyQuestions.FailedOf(study));
    }
}
