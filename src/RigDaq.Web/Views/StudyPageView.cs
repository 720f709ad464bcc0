using System.Globalization;
using RigDaq.App.Runs;
using RigDaq.App.Studies;
using RigDaq.App.Text;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Text;

namespace RigDaq.Web.Views;

/// <summary>What the page shows of one study.</summary>
/// <param name="Study">As in the list.</param>
/// <param name="MayChange">Whether this page may change it.</param>
/// <param name="Plan">The plan in words and figures.</param>
/// <param name="Comparisons">What is compared with what, in words.</param>
/// <param name="Prints">The prints in the study's order.</param>
/// <param name="Conditions">The conditions' names.</param>
/// <param name="Questions">What the plan asks.</param>
/// <param name="Findings">What the rules remark about the plan.</param>
/// <param name="RecordFindings">What they remark about the records.</param>
/// <param name="Groups">Its groups, as a command takes them.</param>
/// <param name="Control">The group that is its control, in words; null where it has none.</param>
/// <param name="ControlGroup">The same as a command takes it.</param>
/// <param name="Earlier">The studies that it is set against.</param>
internal sealed record StudyPageView(StudyItem Study, bool MayChange, IReadOnlyList<RunFact> Plan, IReadOnlyList<string> Comparisons,
    IReadOnlyList<PrintItem> Prints, IReadOnlyList<string> Conditions, QuestionsView Questions, IReadOnlyList<string> Findings,
    IReadOnlyList<string> RecordFindings, IReadOnlyList<string> Groups, string? Control, string? ControlGroup,
    IReadOnlyList<EarlierItem> Earlier)
{
    internal static StudyPageView From(Study study, StudyItem item, IReadOnlySet<string> pulled, bool mayChange, Units units)
    {
        ILookup<string, Specimen> specimens = study.Specimens.ToLookup(s => s.PrintId);
        return new StudyPageView(
            item, mayChange, Facts(study), StudyWords.Comparisons(study),
            [.. study.Prints
                .Select(p => new PrintItem(p.Id, p.Describe(study.SettingUnit), specimens[p.Id].Count(), RunFacts.HowItCameToBe(p.Record),
                p.Record, StretchItem.Of(study, p, specimens[p.Id], pulled)))],
            [.. study.Prints.Select(p => p.Condition).Distinct()], QuestionsView.From(study),
            [.. StudyRules.Check(study).Select(f => f.Text)], RecordRemarks.Of(study).Words.In(units),
            [.. study.Groups().Select(group => group.Describe(""))], study.Control is { } control
                ? GroupWords.Of(control, study.SettingUnit) : null, study.Control?.Describe(""),
            [.. study.Earlier
                .Select(e => new EarlierItem(e.StudyId, e.Title, e.Stretches.Sum(s => s.Megapascals.Count), e.PooledBecause,
                e.GivesScatter))]);
    }

    private static List<RunFact> Facts(Study study)
    {
        Dictionary<string, string> plastics = study.Materials.DistinctBy(m => m.Name).ToDictionary(m => m.Name, m => m.Plastic);
        decimal[] settings = [.. study.Prints.SelectMany(p => p.Stretches).Select(s => s.Setting).OfType<decimal>().Distinct().Order()];
        int groups = study.Groups().Count;
        List<RunFact> facts =
        [
            new(PageText.Of("studies.materials"),
                Join(study.Prints.Select(p => p.Material).Distinct()
                .Select(name => plastics.GetValueOrDefault(name, "") is { Length: > 0 } plastic ? $"{name} ({plastic})" : name))),
            new(PageText.Of("studies.conditions"), Join(study.Prints.Select(p => p.Condition).Distinct())),
        ];
        if (settings.Length > 0) facts
            .Add(new(study.SettingName,
            $"{Join(settings.Select(s => s.ToString(CultureInfo.InvariantCulture)))}\u202f{study.SettingUnit}".TrimEnd('\u202f')));
        facts.Add(new(PageText.Of("studies.pieces"),
            PageText.Of("studies.piecesOf", ("groups", groups), ("prints", study.Prints.Count), ("specimens", study.Specimens.Count))));
        facts.Add(new(PageText.Of("studies.reference"), study.ReferenceCondition ?? PageText.Of("studies.allPairs")));
        facts.Add(new(PageText.Of("studies.margin"), PageText.Of("studies.marginOf",
            ("percent", NumberText.Of(study.EquivalenceMarginPercent, NumberText.Decimals(study.EquivalenceMarginPercent))))));
        facts.Add(new(PageText.Of("studies.basis"), StudyWords.Basis(study)));
        return facts;
    }

    private static string Join(IEnumerable<string> parts) => string.Join(", ", parts);
}

/// <summary>A study that this one is set against.</summary>
/// <param name="StudyId">Its id.</param>
/// <param name="Title">Its name with its day.</param>
/// <param name="Strengths">How many of its strengths were taken over.</param>
/// <param name="PooledBecause">Why they are pooled; null where they are set against.</param>
/// <param name="GivesScatter">Whether its prints' scatter is used where this study has one print of each.</param>
internal sealed record EarlierItem(string StudyId, string Title, int Strengths, string? PooledBecause, bool GivesScatter);

/// <summary>One print with how it came to be.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Group">Its group in words.</param>
/// <param name="Specimens">Cut from it.</param>
/// <param name="Noted">How it came to be, in words and figures; empty where nothing was noted.</param>
/// <param name="Record">How it came to be; null where nothing was noted.</param>
/// <param name="Stretches">Its stretches, from the print bed.</param>
internal sealed record PrintItem(string Id, string Group, int Specimens, IReadOnlyList<RunFact> Noted, PrintRecord? Record,
    IReadOnlyList<StretchItem> Stretches);

/// <summary>A study's plan in words.</summary>
internal static class StudyWords
{
    internal static IReadOnlyList<string> Comparisons(Study study)
        => [.. StudyPairs.Of(study).Select(pair => PageText.Of("studies.comparison",
        ("condition", pair.Condition.Condition), ("reference", pair.Reference.Condition),
            ("where", GroupWords.Of(pair.Condition with { Condition = "" }, study.SettingUnit))))];

    internal static string Basis(Study study) => study.SectionBasis switch
    {
        SectionBasis.PerGroup => PageText.Of("studies.basisGroup"),
        SectionBasis.ReferenceSetting =>
            PageText.Of("studies.basisReferenceAt", ("setting", GroupKey.SettingText(study.ReferenceSetting, study.SettingUnit))),
        _ => PageText.Of("studies.basisSpecimen"),
    };
}
