namespace RigDaq.Tests.Shared;

/// <summary>Looks through a project for words that stand outside its Text folder.</summary>
internal sealed class OnePlace(string source, IReadOnlyList<TextExemption> exemptions)
{
    /// <summary>The folders with code, the Text folder left out.</summary>
    public IEnumerable<string> Rooms => Directory.GetDirectories(source, "*", SearchOption.AllDirectories)
        .Select(folder => Path.GetRelativePath(source, folder).Replace('\\', '/'))
        .Where(room => room.Split('/')[0] is not ("Text" or "bin" or "obj"))
        .Where(room => Files(room).Length > 0).Order(StringComparer.Ordinal);

    /// <summary>The code files of a folder; "." for the project's own.</summary>
    public string[] Files(string room) => Directory.GetFiles(Path.Combine(source, room), "*.cs");

    /// <summary>The words of a folder that no exemption covers, each with its file.</summary>
    public IEnumerable<string> Words(string room) =>
        Texts(room).Where(found => !exemptions.Any(exemption => exemption.Covers(found.File, found.Text))).Select(found => $"{found.File}: {found.Text}");

    /// <summary>Exemptions that nothing needs any more: they would hide the next word.</summary>
    public IEnumerable<string> NotNeeded()
    {
        (string File, string Text)[] all = [.. Rooms.SelectMany(Texts)];
        return exemptions.Where(exemption => !all.Any(text => exemption.Covers(text.File, text.Text))).Select(exemption => $"{exemption.File}: {exemption.Texts}");
    }

    private IEnumerable<(string File, string Text)> Texts(string room) => Files(room).SelectMany(file =>
        File.ReadLines(file).Where(line => SourceText.IsCode(line) && !IsLogged(line)).SelectMany(SourceText.Literals).Where(SourceText.HasWord).Select(text => (Path.GetFileName(file), text)));

    // A log is read by who runs the machine and searched in the language of the code.
    private static bool IsLogged(string line) => line.Contains("_log.Log", StringComparison.Ordinal);
}
