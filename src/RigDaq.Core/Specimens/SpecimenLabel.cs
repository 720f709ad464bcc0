using RigDaq.Core.Text;

namespace RigDaq.Core.Specimens;

/// <summary>What stands on a specimen's label. Whoever draws it decides size and code symbol.</summary>
/// <param name="Code">For machines: the study's id, a slash, the specimen's id.</param>
/// <param name="SpecimenId">For people, large.</param>
/// <param name="Lines">For people, small: group, print, place in the order of breaking.</param>
public sealed record SpecimenLabel(string Code, string SpecimenId, IReadOnlyList<string> Lines)
{
    /// <summary>Separates study and specimen in the code.</summary>
    public const char Separator = '/';

    /// <summary>The labels of a study by print and label, as the pieces come off the saw.</summary>
    /// <param name="study">The study.</param>
    /// <param name="blind">Leaves the group off, so that who judges a fracture by eye is not led by it.</param>
    public static IReadOnlyList<SpecimenLabel> Of(Study study, bool blind = false)
    {
        IReadOnlyDictionary<string, GroupKey> groups = study.GroupOfSpecimens();
        return [.. study.Specimens.OrderBy(s => s.PrintId, StringComparer.Ordinal).ThenBy(s => s.Id, StringComparer.Ordinal)
            .Select(s => new SpecimenLabel(
            $"{study.Id}{Separator}{s.Id}",
            s.Id,
            [
                !blind && groups.TryGetValue(s.Id, out GroupKey? group) ? group.Describe(study.SettingUnit) : "",
                CoreText.LabelPrintAndPlace(s.PrintId, s.Order),
            ]))];
    }

    /// <summary>Reads a label's code; null where it is not one.</summary>
    public static (string StudyId, string SpecimenId)? Read(string code)
    {
        int at = code.IndexOf(Separator, StringComparison.Ordinal);
        return at > 0 && at < code.Length - 1 ? (code[..at], code[(at + 1)..]) : null;
    }
}
