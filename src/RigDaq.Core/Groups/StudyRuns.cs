using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Groups;

/// <summary>Sorts a study's runs into strengths and counts.</summary>
internal sealed record StudyRuns(IReadOnlyList<SpecimenStrength> Strengths, IReadOnlyList<GroupCounts> Counts)
{
    public static readonly IReadOnlySet<PullEnding> BrokenOnly = new HashSet<PullEnding> { PullEnding.Broken };

    public static StudyRuns Collect(Study study, IReadOnlyList<Run> runs, IReadOnlySet<PullEnding> endings, List<Sentence> warnings)
    {
        Dictionary<string, Print> prints = study.Prints.DistinctBy(p => p.Id).ToDictionary(p => p.Id);
        Dictionary<string, Specimen> specimens = study.Specimens.DistinctBy(s => s.Id).ToDictionary(s => s.Id);
        var placed = new List<(Run Run, Specimen Specimen, Print Print)>();
        foreach (Run run in runs)
        {
            if (specimens.TryGetValue(run.Head.SpecimenId, out Specimen? specimen)
                && prints.TryGetValue(specimen.PrintId, out Print? print))
                placed.Add((run, specimen, print));
            else
                warnings.Add(CoreText.RunNamesUnknownSpecimen(run.Head.RunId, run.Head.SpecimenId));
        }

        var strengths = new List<SpecimenStrength>();
        var sections = new Dictionary<string, SectionOutcome>();
        foreach (var (run, specimen, print) in placed.Where(p => endings.Contains(p.Run.Ending)))
        {
            if (!sections.TryGetValue(specimen.Id, out SectionOutcome? section))
                sections[specimen.Id] = section = SectionCalculation.ForSpecimen(study, specimen.Id);
            if (Megapascals(run, section) is { } strength)
                strengths.Add(new SpecimenStrength(run.Head.RunId, specimen.Id, print.Id, print.GroupAt(specimen.Setting), strength,
                    run.Ending, run.Void, run.Strength?.Extrapolated ?? false)
                {
                    Manner = StudyQuestions.MannerOf(run),
                    Location = StudyQuestions.LocationOf(run),
                });
            else
                warnings.Add(CoreText.BrokeWithoutStrength(specimen.Id, !section.Problem.IsEmpty ? section.Problem
                    : CoreText.TraceWithoutPeak));
        }

        foreach (ImportedStrength imported in study.Imported)
        {
            if (specimens.TryGetValue(imported.SpecimenId, out Specimen? specimen)
                && prints.TryGetValue(specimen.PrintId, out Print? print))
                strengths.Add(new SpecimenStrength("", specimen.Id, print.Id, print.GroupAt(specimen.Setting), imported.Megapascals,
                    PullEnding.Broken, null, false));
        }

        int recorded = runs.Count(run => run.Head.Recording is not null);
        if (recorded > 0) warnings.Add(CoreText.RunsRecorded(recorded, runs.Count));
        if (study.Imported.Count > 0) warnings.Add(CoreText.StrengthsImported(study.Imported.Count));
        SpecimenStrength[] single = KeepLast(strengths, warnings);
        if (single.Any(s => s.Extrapolated && s.Void is null)) warnings.Add(CoreText.SomeStrengthsExtrapolated);
        GroupCounts[] counts = [.. study.Groups().Select(group => Count(study, group, placed, single))];
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
        return Figure.FiniteOrNull(strength);
    }

    private static SpecimenStrength[] KeepLast(List<SpecimenStrength> strengths, List<Sentence> warnings)
    {
        foreach (var twice in strengths.Where(s => s.Void is null).GroupBy(s => s.SpecimenId).Where(g => g.Count() > 1))
            warnings.Add(CoreText.BrokenTwice(twice.Key, twice.Count()));
        return [.. strengths.Where(s => s.Void is not null
            || strengths.Last(other => other.SpecimenId == s.SpecimenId && other.Void is null) == s)];
    }

    private static GroupCounts Count(Study study, GroupKey group, List<(Run Run, Specimen Specimen, Print Print)> placed,
        SpecimenStrength[] strengths)
    {
        Run[] runs = [.. placed.Where(p => p.Print.GroupAt(p.Specimen.Setting) == group).Select(p => p.Run)];
        SpecimenStrength[] all = [.. strengths.Where(s => s.Group == group)], kept = [.. all.Where(s => s.Void is null)];
        return new GroupCounts(
            group,
            study.SpecimensIn(group).Count(),
            runs.GroupBy(r => r.Ending).ToDictionary(g => g.Key, g => g.Count()),
            runs.Where(r => r.Void is not null).GroupBy(r => r.Void!.Kind).ToDictionary(g => g.Key, g => g.Count()),
            kept.Length == 0 ? null : Moments.Mean([.. kept.Select(s => s.Megapascals)]),
            all.Length == 0 ? null : Moments.Mean([.. all.Select(s => s.Megapascals)]));
    }

    private static void WarnOfLosses(Study study, GroupCounts[] counts, List<Sentence> warnings)
    {
        foreach (GroupCounts group in counts)
        {
            string name = group.Group.Describe(study.SettingUnit);
            (string, int)[] others = [.. group.Endings.Where(e => e.Key != PullEnding.Broken).Select(e => (e.Key.Spoken(), e.Value))];
            if (others.Length > 0) warnings.Add(CoreText.BesidesBroken(name, others));
            if (group.VoidedTotal == 0) continue;
            warnings.Add(group.MeanMegapascals is null ? CoreText.EveryRunVoided(name) : CoreText.RunsVoided(name, group.VoidedTotal));
        }
    }
}
