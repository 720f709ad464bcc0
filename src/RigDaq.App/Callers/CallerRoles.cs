namespace RigDaq.App.Callers;

/// <summary>The words for roles, as commands, files and programs have them.</summary>
internal static class CallerRoles
{
    /// <summary>All of them, the least first.</summary>
    public static IReadOnlyList<string> Words { get; } = [.. Enum.GetValues<CallerRole>().Select(role => role.Word())];

    /// <summary>A role's word.</summary>
    public static string Word(this CallerRole role) => role switch
    {
        CallerRole.Look => "look",
        CallerRole.Operate => "operate",
        _ => "administer",
    };

    /// <summary>The role that a word names; null where it names none.</summary>
    public static CallerRole? Find(string? word) =>
        Enum.GetValues<CallerRole>().Select(role => (CallerRole?)role).FirstOrDefault(role => role!.Value.Word() == word);
}
