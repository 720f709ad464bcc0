using RigDaq.Core.Text;

namespace RigDaq.Core.Specimens;

/// <summary>What stands on a specimen's label. Whoever draws it decides size and code symbol.</summary>
/// <param name="Code">For machines: the study's id, a slash, the specimen's id.</param>
/// <param name="SpecimenId">For people, large.</param>
/// <param name="Lines">For people, small: group, print, place in the order of breaking.</param>
public sealed record SpecimenLabel(string Code, string SpecimenId, IReadOnlyList<string> Lines)
{
    /// <summary>The labels of a study by print and label, as the pieces come off the saw.</summary>
    /// <param name="study">The study.</param>
    /// <param name="blind">Leaves the group off, so that who judges a fracture by eye is not led by it.</param>
    public static IReadOnlyList<SpecimenLabel> Of(Study study, bool blind = false)
    {
        IReadOnlyDictionary<string, GroupKey> groups = study.GroupOfSpecimens();
        return [.. study.Specimens.OrderBy(s => s.PrintId, StringComparer.Ordinal).ThenBy(s => s.Id, StringComparer.Ordinal)
            .Select(s => new SpecimenLabel(
            $"{study.Id}/{s.Id}",
            s.Id,
            [
                !blind && groups.TryGetValue(s.Id, out GroupKey? group) ? group.Describe(study.SettingUnit) : "",
                CoreText.LabelPrintAndPlace(s.PrintId, s.Order),
            ]))];
    }
}
