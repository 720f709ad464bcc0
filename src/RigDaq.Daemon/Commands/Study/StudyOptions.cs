using System.CommandLine;
using RigDaq.App.Input;
using RigDaq.App.Runs;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>Words for the bases of a section.</summary>
internal static class BasisOption
{
    private static readonly (string Word, SectionBasis Basis)[] Words =
        [("specimen", SectionBasis.PerSpecimen), ("group", SectionBasis.PerGroup), ("reference", SectionBasis.ReferenceSetting)];

    public static Option<string?> Create() => new Option<string?>("--basis") { Description = TerminalText.StudyBasis }.AcceptOnlyFromAmong([.. Words.Select(w => w.Word)]);

    public static SectionBasis? Read(string? word) => word is null ? null : Words.Single(w => w.Word == word).Basis;

    public static string Word(SectionBasis basis) => Words.Single(w => w.Basis == basis).Word;
}

/// <summary>The questions of a plan, by their names.</summary>
internal static class QuestionsOption
{
    /// <summary>Names separated by commas; "all" for every one. Null where nothing was said.</summary>
    /// <exception cref="InputException">There is no such question.</exception>
    public static IReadOnlyList<FrozenQuestion>? Read(string? text)
    {
        if (text is null) return null;
        string[] names = text.Trim() == All ? [.. QuestionNames.All] : [.. text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Distinct()];
        if (names.Length == 0 || names.FirstOrDefault(name => !QuestionNames.All.Contains(name)) is not null)
            throw new InputException(TerminalText.StudyQuestionsUnknown(names.FirstOrDefault(name => !QuestionNames.All.Contains(name)) ?? "", QuestionNames.All));
        return [.. names.Select(name => new FrozenQuestion(name))];
    }

    private const string All = "all";
}

/// <summary>The reason of a void, on the command line.</summary>
internal static class VoidOption
{
    public static Option<string?> Create() => new Option<string?>("--kind") { Description = TerminalText.StudyVoidKind }.AcceptOnlyFromAmong([.. VoidWords.All]);

    public static VoidKind? Read(string? word) => word is null ? null : VoidWords.Find(word);
}
