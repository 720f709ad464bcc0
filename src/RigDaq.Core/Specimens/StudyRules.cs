using System.Text.RegularExpressions;
using RigDaq.Core.Statistics;

namespace RigDaq.Core.Specimens;

/// <summary>Something about a study that a person must mend, or should know.</summary>
/// <param name="Refused">Whether the study cannot be kept as it is.</param>
/// <param name="Text">What, where, and what to do.</param>
public sealed record StudyFinding(bool Refused, string Text);

/// <summary>What a study must fulfil before it is kept or broken.</summary>
public static partial class StudyRules
{
    /// <summary>The most specimens in a study.</summary>
    public const int SpecimensMax = 10_000;

    /// <summary>The longest name of anything.</summary>
    public const int NameLengthMax = 200;

    /// <summary>Looks for everything at once, faults first.</summary>
    public static IReadOnlyList<StudyFinding> Check(Study study)
    {
        var findings = new List<StudyFinding>();
        void Refuse(string text) => findings.Add(new StudyFinding(true, text));
        void Warn(string text) => findings.Add(new StudyFinding(false, text));

        if (!IdPattern().IsMatch(study.Id)) Refuse($"The study's id “{study.Id}” must be 1 to 64 small letters, digits, hyphens or underscores, beginning with a letter or digit.");
        if (string.IsNullOrWhiteSpace(study.Name) || study.Name.Length > NameLengthMax) Refuse($"The study needs a name of at most {NameLengthMax} characters.");
        if (study.Specimens.Count > SpecimensMax) Refuse($"{study.Specimens.Count} specimens are more than the {SpecimensMax} that a study may have.");
        if (!(study.EquivalenceMarginPercent > 0 && study.EquivalenceMarginPercent < 100)) Refuse("The margin of equivalence must lie between 0 and 100 per cent.");

        foreach (string id in Twice(study.Prints.Select(p => p.Id))) Refuse($"The print {id} is named twice.");
        foreach (string id in Twice(study.Specimens.Select(s => s.Id))) Refuse($"The specimen {id} is named twice; each needs a label of its own.");
        foreach (string order in Twice(study.Specimens.Select(s => s.Order.ToString(System.Globalization.CultureInfo.InvariantCulture))))
            Refuse($"Two specimens have the place {order} in the order of breaking.");
        if (study.Specimens.Any(s => s.Order < 1)) Refuse("Places in the order of breaking count from 1.");
        if (study.Specimens.Any(s => string.IsNullOrWhiteSpace(s.Id) || s.Id.Length > NameLengthMax)) Refuse("A specimen has no label, or one that is too long.");
        if (study.Prints.Any(p => string.IsNullOrWhiteSpace(p.Id) || string.IsNullOrWhiteSpace(p.Group.Material) || string.IsNullOrWhiteSpace(p.Group.Condition)))
            Refuse("A print needs an id, a material and a condition.");
        HashSet<string> prints = [.. study.Prints.Select(p => p.Id)];
        foreach (Specimen specimen in study.Specimens.Where(s => !prints.Contains(s.PrintId)))
            Refuse($"The specimen {specimen.Id} names the print {specimen.PrintId}, which the study does not have.");
        foreach (Specimen specimen in study.Specimens.Where(s => s.Section is not null))
        {
            if (SectionRules.Refusal(specimen.Section!) is { } refusal) Refuse($"The section of {specimen.Id}: {refusal}");
        }

        if (study.SectionBasis == SectionBasis.ReferenceSetting && study.ReferenceSetting is null)
            Refuse("Sections are to be taken at a reference setting, but none is named.");
        if (study.ReferenceSetting is { } setting && study.Prints.All(p => p.Group.Setting != setting))
            Refuse($"No print has the reference setting {setting}.");
        if (study.ReferenceCondition is { } reference && study.Prints.All(p => p.Group.Condition != reference))
            Refuse($"No print has the reference condition “{reference}”.");

        HashSet<string> specimens = [.. study.Specimens.Select(s => s.Id)];
        foreach (ImportedStrength imported in study.Imported)
        {
            if (!specimens.Contains(imported.SpecimenId)) Refuse($"An imported strength ({imported.Source}) names the specimen {imported.SpecimenId}, which the study does not have.");
            if (!(imported.Megapascals > 0 && double.IsFinite(imported.Megapascals))) Refuse($"The imported strength of {imported.SpecimenId} ({imported.Source}) is not above 0 MPa.");
        }

        foreach (string id in Twice(study.Imported.Select(i => i.SpecimenId))) Refuse($"The specimen {id} has two imported strengths.");
        foreach (PlannedComparison planned in study.PlannedComparisons ?? [])
        {
            foreach (string condition in new[] { planned.Condition, planned.Reference })
            {
                if (study.Prints.All(p => p.Group != new GroupKey(planned.Material, condition, planned.Setting)))
                    Refuse($"A planned comparison names {new GroupKey(planned.Material, condition, planned.Setting).Describe(study.SettingUnit)}, which no print is.");
            }

            if (planned.Condition == planned.Reference) Refuse($"A planned comparison sets {planned.Condition} against itself.");
        }

        foreach (var alike in NameLikeness.Alike(study.Prints.Select(p => p.Group.Material)).Concat(NameLikeness.Alike(study.Prints.Select(p => p.Group.Condition)))
            .Concat(NameLikeness.Alike(study.Specimens.Select(s => s.Id))).Concat(NameLikeness.Alike(study.Prints.Select(p => p.Id))))
        {
            Warn($"{string.Join(" and ", alike.Select(name => $"“{name}”"))} differ only by spaces or capitals; spell them alike if they are the same.");
        }

        foreach (var material in study.Prints.GroupBy(p => p.Group.Material))
        {
            decimal?[] settings = [.. material.Select(p => p.Group.Setting).Distinct()];
            foreach (var condition in material.GroupBy(p => p.Group.Condition))
            {
                string[] missing = [.. settings.Except(condition.Select(p => p.Group.Setting)).Select(s => s is null ? "no setting" : GroupKey.SettingText(s, study.SettingUnit))];
                if (missing.Length > 0) Warn($"{material.Key}: {condition.Key} has no print at {string.Join(", ", missing)}, where another condition has; settings are unequal.");
            }
        }

        HashSet<string> used = [.. study.Specimens.Select(s => s.PrintId)];
        foreach (Print print in study.Prints.Where(p => !used.Contains(p.Id))) Warn($"No specimen is cut from the print {print.Id}.");
        return [.. findings.OrderByDescending(f => f.Refused)];
    }

    private static IEnumerable<string> Twice(IEnumerable<string> ids) => ids.GroupBy(id => id, StringComparer.Ordinal).Where(g => g.Count() > 1).Select(g => g.Key);

    [GeneratedRegex("^[a-z0-9][a-z0-9_-]{0,63}$")]
    private static partial Regex IdPattern();
}
