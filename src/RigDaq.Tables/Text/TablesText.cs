namespace RigDaq.Tables.Text;

/// <summary>What this room says to people: every sentence of it, so that it can be translated in one place. Words that files know
/// are no sentences.</summary>
internal static partial class TablesText
{
    private static string List(IEnumerable<string> names)
    {
        const int NamedMax = 30;
        string[] all = [.. names];
        return string.Join(", ", all.Take(NamedMax)) + (all.Length > NamedMax ? ", …" : "");
    }
}
