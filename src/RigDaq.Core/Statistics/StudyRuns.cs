using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;

namespace RigDaq.Core.Statistics;

/// <summary>Sorts a study's runs into strengths and counts.</summary>
internal sealed record StudyRuns(IReadOnlyList<SpecimenStrength> Strengths, IReadOnlyList<GroupCounts> Counts)
{
    public static readonly IReadOnlySet<PullEnding> BrokenOnly = new HashSet<PullEnding> { PullEnding.Broken };

    public static StudyRuns Collect(Study study, IReadOnlyList<Run> runs, IReadOnlySet<PullEnding> endings, List<string> warnings)
    {
        Dictionary<string, Print> prints = study.Prints.DistinctBy(p => p.Id).ToDictionary(p => p.Id);
        Dictionary<string, Specimen> specimens = study.Specimens.DistinctBy(s => s.Id).ToDictionary(s => s.Id);
        var placed = new List<(Run Run, Specimen Specimen, Print Print)>();
        foreach (Run run in runs)
        {
            if (specimens.TryGetValue(run.Head.SpecimenId, out Specimen? specimen) && prints.TryGetValue(specimen.PrintId, out Print? print))
                placed.Add((run, specimen, print));
            else
                warnings.Add($"The run {run.Head.RunId} names the specimen {run.Head.SpecimenId}, which the study does not have; it is left out.");
        }

        var strengths = new List<SpecimenStrength>();
        var sections = new Dictionary<string, SectionOutcome>();
        foreach (var (run, specimen, print) in placed.Where(p => endings.Contains(p.Run.Ending)))
        {
            if (!sections.TryGetValue(specimen.Id, out SectionOutcome? section))
                sections[specimen.Id] = section = SectionCalculation.ForSpecimen(study, specimen.Id);
            if (Megapascals(run, section) is { } strength)
                strengths.Add(new SpecimenStrength(run.Head.RunId, specimen.Id, print.Id, print.Group, strength, run.Ending, run.Void, run.Strength?.Extrapolated ?? false));
            else
                warnings.Add($"{specimen.Id} broke, but has no strength: {(section.Problem.Length > 0 ? section.Problem : "its trace gave no peak force.")}");
        }

        foreach (ImportedStrength imported in study.Imported)
        {
            if (specimens.TryGetValue(imported.SpecimenId, out Specimen? specimen) && prints.TryGetValue(specimen.PrintId, out Print? print))
                strengths.Add(new SpecimenStrength("", specimen.Id, print.Id, print.Group, imported.Megapascals, PullEnding.Broken, null, false));
        }

        if (study.Imported.Count > 0) warnings.Add($"{study.Imported.Count} strengths were imported from tables and have no trace.");
        SpecimenStrength[] single = KeepLast(strengths, warnings);
        if (single.Any(s => s.Extrapolated && s.Void is null))
            warnings.Add("Some strengths are extrapolated: their force lies beyond twice the greatest reference force of the calibration.");
        GroupCounts[] counts = [.. study.Prints.Select(p => p.Group).Distinct().Select(group => Count(study, group, placed, single))];
        WarnOfLosses(study, counts, warnings);
        return new StudyRuns(single, counts);
    }

    /// <summary>The strength on the study's present section: the stored one, carried over to that section, or peak over section.</summary>
    private static double? Megapascals(Run run, SectionOutcome section)
    {
        double? strength = (run.Strength, section.Section) switch
        {
            ({ } stored, { } now) => stored.Megapascals * stored.AreaSquareMillimetres / now.AreaSquareMillimetres,
            ({ } stored, null) => stored.Megapascals,
            (null, { } now) => run.Reading?.PeakForceNewtons / now.AreaSquareMillimetres,
            _ => null,
        };
        return strength is { } value && double.IsFinite(value) ? value : null;
    }

    private static SpecimenStrength[] KeepLast(List<SpecimenStrength> strengths, List<string> warnings)
    {
        foreach (var twice in strengths.Where(s => s.Void is null).GroupBy(s => s.SpecimenId).Where(g => g.Count() > 1))
            warnings.Add($"{twice.Key} has {twice.Count()} runs that broke it, which one piece cannot have: the last is used; void the wrong ones.");
        return [.. strengths.Where(s => s.Void is not null || strengths.Last(other => other.SpecimenId == s.SpecimenId && other.Void is null) == s)];
    }

    private static GroupCounts Count(Study study, GroupKey group, List<(Run Run, Specimen Specimen, Print Print)> placed, SpecimenStrength[] strengths)
    {
        Run[] runs = [.. placed.Where(p => p.Print.Group == group).Select(p => p.Run)];
        HashSet<string> prints = [.. study.Prints.Where(p => p.Group == group).Select(p => p.Id)];
        SpecimenStrength[] all = [.. strengths.Where(s => s.Group == group)], kept = [.. all.Where(s => s.Void is null)];
        return new GroupCounts(
            group,
            study.Specimens.Count(s => prints.Contains(s.PrintId)),
            runs.GroupBy(r => r.Ending).ToDictionary(g => g.Key, g => g.Count()),
            runs.Where(r => r.Void is not null).GroupBy(r => r.Void!.Kind).ToDictionary(g => g.Key, g => g.Count()),
            kept.Length == 0 ? null : Moments.Mean([.. kept.Select(s => s.Megapascals)]),
            all.Length == 0 ? null : Moments.Mean([.. all.Select(s => s.Megapascals)]));
    }

    private static void WarnOfLosses(Study study, GroupCounts[] counts, List<string> warnings)
    {
        foreach (GroupCounts group in counts)
        {
            string name = group.Group.Describe(study.SettingUnit);
            string[] others = [.. group.Endings.Where(e => e.Key != PullEnding.Broken).Select(e => $"{e.Value} {e.Key.Word()}")];
            if (others.Length > 0) warnings.Add($"{name}: besides the broken ones, {string.Join(", ", others)}.");
            if (group.VoidedTotal == 0) continue;
            warnings.Add(group.MeanMegapascals is null
                ? $"{name}: every run is voided, so nothing can be said of it."
                : $"{name}: {group.VoidedTotal} voided; see the mean with and without them. Voids are not harmless: a grip fails on strong specimens first.");
        }
    }
}
