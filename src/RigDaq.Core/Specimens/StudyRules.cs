using System.Text.RegularExpressions;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Specimens;

/// <summary>Something about a study that a person must mend, or should know.</summary>
/// <param name="Refused">Whether the study cannot be kept as it is.</param>
/// <param name="Text">What, where, and what to do.</param>
public sealed record StudyFinding(bool Refused, Sentence Text);

/// <summary>What a study must fulfil before it is kept or broken.</summary>
public static partial class StudyRules
{
    /// <summary>The most specimens in a study.</summary>
    public const int SpecimensMax = 10_000;

    /// <summary>The most tries of a stretch that could not be printed.</summary>
    public const int PrintTriesMax = 1000;

    /// <summary>The longest name of anything.</summary>
    public const int NameLengthMax = 200;

    /// <summary>Looks for everything at once, faults first.</summary>
    public static IReadOnlyList<StudyFinding> Check(Study study)
    {
        var findings = new List<StudyFinding>();
        void Refuse(Sentence text) => findings.Add(new StudyFinding(true, text));
        void Warn(Sentence text) => findings.Add(new StudyFinding(false, text));

        if (!IdPattern().IsMatch(study.Id)) Refuse(CoreText.StudyIdNotPossible(study.Id));
        if (string.IsNullOrWhiteSpace(study.Name) || study.Name.Length > NameLengthMax) Refuse(CoreText.StudyNeedsName(NameLengthMax));
        if (study.Specimens.Count > SpecimensMax) Refuse(CoreText.TooManySpecimens(study.Specimens.Count, SpecimensMax));
        if (!(study.EquivalenceMarginPercent > 0 && study.EquivalenceMarginPercent < 100)) Refuse(CoreText.MarginNotPossible);

        foreach (string id in Twice(study.Prints.Select(p => p.Id))) Refuse(CoreText.PrintNamedTwice(id));
        foreach (string id in Twice(study.Specimens.Select(s => s.Id))) Refuse(CoreText.SpecimenNamedTwice(id));
        foreach (string order in Twice(study.Specimens.Select(s => s.Order.ToString(System.Globalization.CultureInfo.InvariantCulture))))
            Refuse(CoreText.PlaceTakenTwice(order));
        if (study.Specimens.Any(s => s.Order < 1)) Refuse(CoreText.PlacesCountFromOne);
        if (study.Specimens.Any(s => string.IsNullOrWhiteSpace(s.Id) || s.Id.Length > NameLengthMax)) Refuse(CoreText.SpecimenWithoutLabel);
        if (study.Prints.Any(p => string.IsNullOrWhiteSpace(p.Id) || string.IsNullOrWhiteSpace(p.Material)
            || string.IsNullOrWhiteSpace(p.Condition)))
            Refuse(CoreText.PrintIncomplete);
        CheckStretches(study, Refuse);
        foreach (Specimen specimen in study.Specimens.Where(s => s.Section is not null))
        {
            if (SectionRules.Refusal(specimen.Section!) is { } refusal) Refuse(CoreText.SectionRefused(specimen.Id, refusal));
        }

        if (study.SectionBasis == SectionBasis.ReferenceSetting && study.ReferenceSetting is null) Refuse(CoreText.ReferenceSettingMissing);
        if (study.ReferenceSetting is { } setting && study.Prints.All(p => p.At(setting) is null))
            Refuse(CoreText.NoPrintAtReferenceSetting(setting));
        if (study.ReferenceCondition is { } reference && study.Prints.All(p => p.Condition != reference))
            Refuse(CoreText.NoPrintOfReferenceCondition(reference));

        if (study.ReferenceMaterial is { } wanted
            && study.Prints.All(p => p.Material != wanted)) Refuse(CoreText.NoPrintOfReferenceMaterial(wanted));
        if (study.Control is { } control && !study.Has(control)) Warn(CoreText.ControlGone(control.Describe(study.SettingUnit)));
        foreach (string id in Twice(study.Earlier.Select(e => e.StudyId))) Refuse(CoreText.EarlierTwice(id));
        foreach (EarlierResult earlier in study.Earlier.Where(e => e.StudyId == study.Id
            || e.Stretches.Any(s => s.Megapascals.Any(value => !(value > 0 && double.IsFinite(value))))))
            Refuse(CoreText.EarlierNotPossible(earlier.StudyId));
        if (!(study.KeepsPercent is > 0 and < 100)) Refuse(CoreText.KeepsNotPossible);
        foreach (FrozenQuestion question in (study.PlannedQuestions ?? []).Where(q => !QuestionNames.All.Contains(q.Question)))
            Refuse(CoreText.QuestionUnknown(question.Question, QuestionNames.All));

        HashSet<string> specimens = [.. study.Specimens.Select(s => s.Id)];
        foreach (ImportedStrength imported in study.Imported)
        {
            if (!specimens.Contains(imported.SpecimenId)) Refuse(CoreText.ImportNamesUnknownSpecimen(imported.Source, imported.SpecimenId));
            if (!(imported.Megapascals > 0 && double.IsFinite(imported.Megapascals)))
                Refuse(CoreText.ImportNotAboveZero(imported.SpecimenId, imported.Source));
        }

        foreach (string id in Twice(study.Imported.Select(i => i.SpecimenId))) Refuse(CoreText.ImportedTwice(id));
        foreach (PlannedComparison planned in study.PlannedComparisons ?? [])
        {
            foreach (string condition in new[] { planned.Condition, planned.Reference })
            {
                if (!study.Has(new GroupKey(planned.Material, condition, planned.Setting)))
                    Refuse(CoreText.PlannedGroupUnknown(new GroupKey(planned.Material, condition, planned.Setting)
                        .Describe(study.SettingUnit)));
            }

            if (planned.Condition == planned.Reference) Refuse(CoreText.PlannedAgainstItself(planned.Condition));
        }

        foreach (var spellings in NameLikeness.Alike(study.Prints.Select(p => p.Material))
            .Concat(NameLikeness.Alike(study.Prints.Select(p => p.Condition)))
            .Concat(NameLikeness.Alike(study.Specimens.Select(s => s.Id))).Concat(NameLikeness.Alike(study.Prints.Select(p => p.Id))))
        {
            Warn(CoreText.NamesAlike(spellings));
        }

        foreach (var material in study.Prints.GroupBy(p => p.Material))
        {
            decimal?[] settings = [.. material.SelectMany(p => p.Stretches).Select(s => s.Setting).Distinct()];
            foreach (var condition in material.GroupBy(p => p.Condition))
            {
                string[] missing = [.. settings.Except(condition.SelectMany(p => p.Stretches).Select(s => s.Setting))
                    .Select(s => s is null ? CoreText.WithoutSetting : GroupKey.SettingText(s, study.SettingUnit))];
                if (missing.Length > 0) Warn(CoreText.SettingsUnequal(material.Key, condition.Key, missing));
            }
        }

        ILookup<string, Specimen> cut = study.Specimens.ToLookup(s => s.PrintId);
        foreach (Print print in study.Prints.DistinctBy(p => p.Id).Where(p => p.Stretches.Any(s => s.Failure is null)))
        {
            if (!cut.Contains(print.Id)) Warn(CoreText.PrintWithoutSpecimens(print.Id));
            else foreach (Stretch bare in print.Stretches.Where(s => s.Failure is null
                && cut[print.Id].All(piece => piece.Setting != s.Setting)))
                Warn(CoreText.StretchWithoutSpecimens(print.Id, GroupKey.SettingText(bare.Setting, study.SettingUnit)));
        }

        return [.. findings.OrderByDescending(f => f.Refused)];
    }

    private static void CheckStretches(Study study, Action<Sentence> refuse)
    {
        foreach (Print print in study.Prints)
        {
            if (print.Stretches.Count == 0) refuse(CoreText.PrintWithoutStretch(print.Id));
            foreach (var twice in print.Stretches.GroupBy(s => s.Setting).Where(g => g.Count() > 1))
                refuse(CoreText.StretchTwice(print.Id, GroupKey.SettingText(twice.Key, study.SettingUnit)));
            foreach (Stretch failed in print.Stretches.Where(s => s.Failure is not null))
            {
                string place = GroupKey.SettingText(failed.Setting, study.SettingUnit);
                if (string.IsNullOrWhiteSpace(failed.Failure!.Reason) || failed.Failure.Tries is < 1 or > PrintTriesMax)
                    refuse(CoreText.FailureIncomplete(print.Id, place, PrintTriesMax));
                if (study.Specimens.Any(s => s.PrintId == print.Id && s.Setting == failed.Setting))
                    refuse(CoreText.FailureWithSpecimens(print.Id, place));
            }
        }

        Dictionary<string, Print> prints = study.Prints.DistinctBy(p => p.Id).ToDictionary(p => p.Id);
        foreach (Specimen specimen in study.Specimens)
        {
            if (!prints.TryGetValue(specimen.PrintId, out Print? print)) refuse(CoreText.SpecimenNamesUnknownPrint(specimen.Id,
                specimen.PrintId));
            else if (print.At(specimen.Setting) is null) refuse(CoreText.SpecimenOfNoStretch(specimen.Id, print.Id,
                GroupKey.SettingText(specimen.Setting, study.SettingUnit)));
            if (specimen.Place < 1) refuse(CoreText.PlaceNotPossible(specimen.Id));
        }
    }

    private static IEnumerable<string> Twice(IEnumerable<string> ids) =>
        ids.GroupBy(id => id, StringComparer.Ordinal).Where(g => g.Count() > 1).Select(g => g.Key);

    [GeneratedRegex(@"^[a-z0-9][a-z0-9_-]{0,63}\z")]
    private static partial Regex IdPattern();
}
