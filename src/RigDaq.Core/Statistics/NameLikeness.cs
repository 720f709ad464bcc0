using System.Globalization;
using System.Text;

namespace RigDaq.Core.Statistics;

/// <summary>Finds names that differ only by spaces, capitals or the way an accent is written: most likely one thing, spelt twice.</summary>
public static class NameLikeness
{
    /// <summary>The distinct spellings of each name that has several.</summary>
    public static IEnumerable<IReadOnlyList<string>> Alike(IEnumerable<string> names) => names.Distinct(StringComparer.Ordinal)
        .GroupBy(Skeleton, StringComparer.Ordinal).Where(group => group.Count() > 1).Select(group => (IReadOnlyList<string>)[.. group]);

    internal static IEnumerable<string> Warnings(IReadOnlyList<Observation> observations) =>
    [
        .. Say("materials", observations.Select(o => o.Group.Material)),
        .. Say("conditions", observations.Select(o => o.Group.Condition)),
        .. observations.GroupBy(o => o.Group).SelectMany(group => Say("prints", group.Select(o => o.Print))),
    ];

    private static IEnumerable<string> Say(string what, IEnumerable<string> names) => Alike(names).Select(group =>
        $"The {what} {string.Join(" and ", group.Select(name => $"“{name}”"))} differ only by spaces or capitals and are kept apart; spell them alike if they are the same.");

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
