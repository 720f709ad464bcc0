using RigDaq.Core.Statistics;

namespace RigDaq.Core.Specimens;

/// <summary>A study as a plan's question: what its prints hold, and what is compared.</summary>
/// <param name="Question">With the scatters that are expected.</param>
/// <param name="Prints">Prints of the group that has the fewest.</param>
/// <param name="Specimens">Specimens of the stretch that has the fewest.</param>
public sealed record PlannedStudy(PlanQuestion Question, int Prints, int Specimens)
{
    /// <summary>Whether the study has two materials, or more.</summary>
    public bool HasMaterials { get; init; }

    /// <summary>What can be shown of each kind of question that the study can ask.</summary>
    public IEnumerable<PlanOutlook> Outlooks() => PlanOutlooks.Of(Question, Prints, Specimens)
        .Where(outlook => HasMaterials || outlook.Question is not (QuestionNames.Material or QuestionNames.MaterialAverage));

    /// <summary>Takes a study; a print that holds all settings brings its degree of freedom once. Null where nothing is compared, or
    /// nothing is to be pulled.</summary>
    /// <param name="study">The study.</param>
    /// <param name="withinPercent">The scatter of specimens within a print.</param>
    /// <param name="betweenPercent">The scatter of prints' means.</param>
    /// <param name="stretchPercent">The scatter of a stretch beyond its print.</param>
    public static PlannedStudy? Of(Study study, double withinPercent, double betweenPercent, double stretchPercent)
    {
        int comparisons = StudyPairs.Of(study).Count, groups = study.Groups().Count;
        int[] specimens = [.. study.Specimens.GroupBy(s => (s.PrintId, s.Setting)).Select(stretch => stretch.Count())];
        if (comparisons == 0 || specimens.Length == 0) return null;
        int settings = study.HasStretches() ? study.Groups().Select(g => g.Setting).Distinct().Count() : 1;
        int families = study.Prints.Select(print => (print.Material, print.Condition)).Distinct().Count();
        var question = new PlanQuestion
        {
            WithinPrintVariationPercent = withinPercent,
            BetweenPrintVariationPercent = betweenPercent,
            StretchVariationPercent = stretchPercent,
            Settings = settings,
            Groups = study.HasStretches() ? families * settings : groups,
            Comparisons = comparisons,
        };
        return new PlannedStudy(question, study.Groups().Min(group => study.Prints.Count(print => print.Groups().Contains(group))),
            specimens.Min())
        {
            HasMaterials = study.Prints.Select(print => print.Material).Distinct().Count() > 1,
        };
    }
}
