using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Specimens;

/// <summary>Corrections of a study, as values: each gives a new study, to be kept with its reason; the archive's journal keeps the earlier
/// ones.</summary>
public static class StudyCorrections
{
    /// <summary>Gives a specimen another section.</summary>
    /// <exception cref="RefusalException">There is no such specimen, or the readings give no area.</exception>
    public static Study Measure(Study study, string specimenId, SectionMeasurement? section)
    {
        if (section is not null
            && SectionRules.Refusal(section) is { } refusal) throw new RefusalException(CoreText.SectionProblem(specimenId, refusal));
        return ChangeSpecimen(study, specimenId, s => s with { Section = section });
    }

    /// <summary>Says that a specimen was cut from another print, from its stretch at the same setting or, where it has only one, from
    /// that.</summary>
    public static Study MoveSpecimen(Study study, string specimenId, string printId) => ChangeSpecimen(study, specimenId, specimen =>
    {
        Print print = PrintOf(study, printId);
        if (print.Stretches.Count == 1) return specimen with { PrintId = printId, Setting = print.Stretches[0].Setting };
        Require(print.At(specimen.Setting) is not null, CoreText.MoveNamesNoStretch(specimenId, printId));
        return specimen with { PrintId = printId };
    });

    /// <summary>Says that a specimen was cut from another print or another stretch.</summary>
    public static Study MoveSpecimen(Study study, string specimenId, string printId, decimal? setting)
    {
        Require(PrintOf(study, printId).At(setting) is not null,
            CoreText.PrintHasNoStretch(printId, GroupKey.SettingText(setting, study.SettingUnit)));
        return ChangeSpecimen(study, specimenId, s => s with { PrintId = printId, Setting = setting });
    }

    /// <summary>Gives a condition another name, wherever it stands, the plan included.</summary>
    public static Study RenameCondition(Study study, string from, string to)
    {
        Require(study.Prints.Any(p => p.Condition == from), CoreText.StudyHasNoCondition(study.Id, from));
        Require(!string.IsNullOrWhiteSpace(to), CoreText.ConditionNeedsName);
        return Renamed(study, name => name, name => name == from ? to : name);
    }

    /// <summary>Gives a material another name, wherever it stands.</summary>
    public static Study RenameMaterial(Study study, string from, string to)
    {
        Require(study.Prints.Any(p => p.Material == from), CoreText.StudyHasNoMaterial(study.Id, from));
        Require(!string.IsNullOrWhiteSpace(to), CoreText.MaterialNeedsName);
        return Renamed(study, name => name == from ? to : name, name => name);
    }

    private static Study Renamed(Study study, Func<string, string> material, Func<string, string> condition)
    {
        string? Material(string? name) => name is null ? null : material(name);
        string? Condition(string? name) => name is null ? null : condition(name);
        GroupKey? Group(GroupKey? key) => key is null ? null
            : key with { Material = material(key.Material), Condition = condition(key.Condition) };
        return study with
        {
            Prints = [.. study.Prints.Select(p => p with { Material = material(p.Material), Condition = condition(p.Condition) })],
            Materials = [.. study.Materials.Select(m => m with { Name = material(m.Name) })],
            ReferenceCondition = Condition(study.ReferenceCondition),
            ReferenceMaterial = Material(study.ReferenceMaterial),
            PlannedComparisons = study.PlannedComparisons is { } planned ? [.. planned.Select(c => c with
            {
                Material = material(c.Material),
                Condition = condition(c.Condition),
                Reference = condition(c.Reference),
            })] : null,
            Control = Group(study.Control),
            // What was set against keeps matching.
            Earlier = [.. study.Earlier.Select(e => e with
            {
                Control = Group(e.Control),
                Stretches = [.. e.Stretches.Select(s => s with { Material = material(s.Material), Condition = condition(s.Condition) })],
            })],
            PlannedQuestions = study.PlannedQuestions is { } asked ? [.. asked.Select(q => q with
            {
                Material = Material(q.Material),
                Condition = Condition(q.Condition),
                AgainstMaterial = Material(q.AgainstMaterial),
                AgainstCondition = Condition(q.AgainstCondition),
            })] : null,
        };
    }

    /// <summary>Notes how a print came to be.</summary>
    public static Study Record(Study study, string printId, PrintRecord? record)
    {
        Require(study.Prints.Any(p => p.Id == printId), CoreText.StudyHasNoPrint(study.Id, printId));
        return study with { Prints = [.. study.Prints.Select(p => p.Id == printId ? p with { Record = record } : p)] };
    }

    /// <summary>Freezes the plan: the comparisons that will be made and the questions that will be answered are written out and
    /// stay.</summary>
    public static Study Freeze(Study study, DateTimeOffset at) => study.PlanFrozenAt is not null ? study : study with
    {
        PlanFrozenAt = at,
        PlannedQuestions = study.PlannedQuestions ?? [.. QuestionNames.All.Select(name => new FrozenQuestion(name))],
        PlannedComparisons = [.. StudyPairs.Of(study)
            .Select(p => new PlannedComparison(p.Condition.Material, p.Condition.Setting, p.Condition.Condition, p.Reference.Condition))],
    };

    /// <summary>What of a frozen plan a change touches; each belongs in the report beside the verdicts.</summary>
    public static IReadOnlyList<string> PlanChanges(Study before, Study after)
    {
        if (before.PlanFrozenAt is null) return [];
        var changes = new List<string>();
        if (before.EquivalenceMarginPercent != after.EquivalenceMarginPercent) changes.Add(CoreText.MarginChangedAfterFreeze);
        if (!(before.PlannedComparisons ?? []).SequenceEqual(after.PlannedComparisons ?? []))
            changes.Add(CoreText.ComparisonsChangedAfterFreeze);
        if (!(before.PlannedQuestions ?? []).SequenceEqual(after.PlannedQuestions ?? [])) changes.Add(CoreText.QuestionsChangedAfterFreeze);
        if (before.ReferenceMaterial != after.ReferenceMaterial) changes.Add(CoreText.ReferenceMaterialChangedAfterFreeze);
        if (before.KeepsPercent != after.KeepsPercent) changes.Add(CoreText.KeepsChangedAfterFreeze);
        if (before.Control != after.Control) changes.Add(CoreText.ControlChangedAfterFreeze);
        if (!before.Earlier.Select(Said).SequenceEqual(after.Earlier.Select(Said))) changes.Add(CoreText.EarlierChangedAfterFreeze);
        if (before.SectionBasis != after.SectionBasis || before.ReferenceSetting != after.ReferenceSetting)
            changes.Add(CoreText.SectionBasisChangedAfterFreeze);
        if (after.PlanFrozenAt != before.PlanFrozenAt) changes.Add(CoreText.PlanOpenedAgain);
        return changes;

        static (string, DateTimeOffset, string?, bool) Said(EarlierResult earlier) =>
            (earlier.StudyId, earlier.TakenAt, earlier.PooledBecause, earlier.GivesScatter);
    }

    /// <summary>Marks the group that is pulled in every session as a control; null takes the mark back.</summary>
    /// <exception cref="RefusalException">The study has no such group.</exception>
    public static Study MarkControl(Study study, GroupKey? control)
    {
        if (control is not null)
            Require(study.Has(control), CoreText.ControlNoGroup(study.Id, control.Describe(study.SettingUnit),
            [.. study.Groups().Take(GroupsNamed).Select(g => g.Describe(study.SettingUnit))]));
        return study with { Control = control };
    }

    /// <summary>Sets a study against an earlier one; what was taken over from the same study before is replaced.</summary>
    /// <exception cref="RefusalException">It is the study itself, it has no strengths, or no group of both.</exception>
    public static Study SetAgainst(Study study, EarlierResult earlier)
    {
        Require(earlier.StudyId != study.Id, CoreText.EarlierIsItself);
        Require(earlier.Stretches.Count > 0, CoreText.EarlierWithoutStrengths(earlier.StudyId));
        Require(earlier.PooledBecause is not { } why || !string.IsNullOrWhiteSpace(why), CoreText.EarlierPoolReason);
        Require(earlier.PooledBecause is null || earlier.Stretches.Any(s => study.Has(new GroupKey(s.Material, s.Condition, s.Setting))),
            CoreText.EarlierNothingToPool(earlier.StudyId));
        return study with { Earlier = [.. study.Earlier.Where(e => e.StudyId != earlier.StudyId), earlier] };
    }

    /// <summary>No longer sets a study against an earlier one.</summary>
    /// <exception cref="RefusalException">It is not set against it.</exception>
    public static Study NotAgainst(Study study, string earlierId)
    {
        Require(study.Earlier.Any(e => e.StudyId == earlierId), CoreText.NotSetAgainst(study.Id, earlierId));
        return study with { Earlier = [.. study.Earlier.Where(e => e.StudyId != earlierId)] };
    }

    private const int GroupsNamed = 10;

    private static Print PrintOf(Study study, string printId) =>
        study.Prints.FirstOrDefault(p => p.Id == printId) ?? throw new RefusalException(CoreText.StudyHasNoPrint(study.Id, printId));

    private static Study ChangeSpecimen(Study study, string specimenId, Func<Specimen, Specimen> change)
    {
        Require(study.Specimens.Any(s => s.Id == specimenId), CoreText.StudyHasNoSpecimen(study.Id, specimenId));
        return study with { Specimens = [.. study.Specimens.Select(s => s.Id == specimenId ? change(s) : s)] };
    }

    private static void Require(bool condition, Sentence message)
    {
        if (!condition) throw new RefusalException(message);
    }
}
