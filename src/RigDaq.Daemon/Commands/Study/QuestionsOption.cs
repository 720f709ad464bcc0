using RigDaq.App.Input;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>The questions of a plan, by their names.</summary>
internal static class QuestionsOption
{
    /// <summary>Names separated by commas; "all" for every one. Null where nothing was said.</summary>
    /// <exception cref="InputException">There is no such question.</exception>
    public static IReadOnlyList<FrozenQuestion>? Read(string? text)
    {
        if (text is null) return null;
        string[] names = text.Trim() == All ? [.. QuestionNames.All]
            : [.. text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Distinct()];
        if (names.Length == 0 || names.FirstOrDefault(name => !QuestionNames.All.Contains(name)) is not null)
            throw new InputException(TerminalText.StudyQuestionsUnknown(names.FirstOrDefault(name => !QuestionNames.All.Contains(name))
                ?? "", QuestionNames.All));
        return [.. names.Select(name => new FrozenQuestion(name))];
    }

    private const string All = "all";
}
