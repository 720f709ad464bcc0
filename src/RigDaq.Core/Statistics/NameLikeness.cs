using System.Globalization;
using System.Text;
using RigDaq.Core.Text;

namespace RigDaq.Core.Statistics;

/// <summary>Finds names that differ only by spaces, capitals or the way an accent is written: most likely one thing, spelt twice.</summary>
public static class NameLikeness
{
    /// <summary>The distinct spellings of each name that has several.</summary>
    public static IEnumerable<IReadOnlyList<string>> Alike(IEnumerable<string> names) => names.Distinct(StringComparer.Ordinal)
        .GroupBy(Skeleton, StringComparer.Ordinal).Where(group => group.Count() > 1).Select(group => (IReadOnlyList<string>)[.. group]);

    internal static IEnumerable<string> Warnings(IReadOnlyList<Observation> observations) =>
    [
        .. Say(CoreText.MaterialsAlike, observations.Select(o => o.Group.Material)),
        .. Say(CoreText.ConditionsAlike, observations.Select(o => o.Group.Condition)),
        .. observations.GroupBy(o => o.Group).SelectMany(group => Say(CoreText.PrintsAlike, group.Select(o => o.Print))),
    ];

    private static IEnumerable<string> Say(Func<IReadOnlyList<string>, string> sentence, IEnumerable<string> names) => Alike(names).Select(sentence);

    private static string Skeleton(string name)
    {
        var letters = new StringBuilder();
        foreach (char c in name.Normalize(NormalizationForm.FormKC))
        {
            if (!char.IsWhiteSpace(c) && CharUnicodeInfo.GetUnicodeCategory(c) != UnicodeCategory.Format) letters.Append(char.ToUpperInvariant(c));
        }

        return letters.ToString();
    }
}
