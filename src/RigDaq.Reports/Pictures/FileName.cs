namespace RigDaq.Reports.Pictures;

/// <summary>Names of things as names of files.</summary>
internal static class FileName
{
    private const int Longest = 60;

    /// <summary>Lower case, letters and digits of ASCII, hyphens between; "x" where nothing is left.</summary>
    public static string Of(string text)
    {
        string safe = string.Concat(text.ToLowerInvariant().Select(c => char.IsAsciiLetterOrDigit(c) ? c : '-'));
        string name = string.Join('-', safe.Split('-', StringSplitOptions.RemoveEmptyEntries));
        if (name.Length > Longest) name = name[..Longest];
        return name.Length == 0 ? "x" : name;
    }
}
