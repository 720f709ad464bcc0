using System.Globalization;
using System.Text;

namespace RigDaq.Core.Specimens;

/// <summary>Finds names that differ only by spaces, capitals or the way an accent is written: most likely one thing, spelt twice.</summary>
public static class NameLikeness
{
    /// <summary>The distinct spellings of each name that has several.</summary>
    public static IEnumerable<IReadOnlyList<string>> Alike(IEnumerable<string> names) => names.Distinct(StringComparer.Ordinal)
        .GroupBy(Skeleton, StringComparer.Ordinal).Where(group => group.Count() > 1).Select(group => (IReadOnlyList<string>)[.. group]);

    private static string Skeleton(string name)
    {
        var letters = new StringBuilder();
        foreach (char c in name.Normalize(NormalizationForm.FormKC))
        {
            if (!char.IsWhiteSpace(c) && CharUnicodeInfo.GetUnicodeCategory(c) != UnicodeCategory.Format)
                letters.Append(char.ToUpperInvariant(c));
        }

        return letters.ToString();
    }
}
