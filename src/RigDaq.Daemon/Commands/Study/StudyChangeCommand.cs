using System.CommandLine;
using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study change</c>: each change is kept with its reason; the earlier version stays in the journal.</summary>
internal static class StudyChangeCommand
{
    public static Command Create()
    {
        var id = new Argument<string>("STUDY") { Description = TerminalText.StudyId };
        var reason = new Option<string?>("--reason") { Description = TerminalText.StudyChangeReason };
        var name = new Option<string?>("--name") { Description = TerminalText.StudyChangeName };
        var condition = new Option<string?>("--rename-condition") { Description = TerminalText.StudyChangeCondition };
        var material = new Option<string?>("--rename-material") { Description = TerminalText.StudyChangeMaterial };
        var move = new Option<string?>("--move-specimen") { Description = TerminalText.StudyChangeMove };
        var margin = new Option<double?>("--margin") { Description = TerminalText.StudyChangeMargin };
        var reference = new Option<string?>("--reference") { Description = TerminalText.StudyChangeReference };
        Option<string?> basis = BasisOption.Create();
        var referenceSetting = new Option<string?>("--reference-setting") { Description = TerminalText.StudyChangeReferenceSetting };
        var referenceMaterial = new Option<string?>("--reference-material") { Description = TerminalText.StudyMakeReferenceMaterial };
        var keeps = new Option<double?>("--keeps") { Description = TerminalText.StudyMakeKeeps };
        var questions = new Option<string?>("--questions") { Description = TerminalText.StudyMakeQuestions };
        var freeze = new Option<bool>("--freeze") { Description = TerminalText.StudyChangeFreeze };
        var command = new Command("change", TerminalText.StudyChangeCommand)
            { id, reason, name, condition, material, move, margin, reference, basis, referenceSetting, referenceMaterial, keeps, questions,
            freeze, StudyStore.Data, StudyStore.Config };
        return command.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed);
            Study before = store.Require(parsed.GetRequiredValue(id));
            Study after = before;
            if (parsed.GetValue(name) is { } newName) after = after with { Name = newName };
            if (Pair(parsed.GetValue(condition), "--rename-condition") is { } c) after = StudyCorrections.RenameCondition(after, c.Left,
                c.Right);
            if (Pair(parsed.GetValue(material), "--rename-material") is { } m) after = StudyCorrections.RenameMaterial(after, m.Left,
                m.Right);
            if (Pair(parsed.GetValue(move), "--move-specimen") is { } s) after = Move(after, s.Left, s.Right);
            if (parsed.GetValue(referenceMaterial) is { } newMaterial) after = after with { ReferenceMaterial = newMaterial };
            if (parsed.GetValue(keeps) is { } newKeeps) after = after with { KeepsPercent = newKeeps };
            if (QuestionsOption.Read(parsed.GetValue(questions)) is { } asked) after = after with { PlannedQuestions = asked };
            if (parsed.GetValue(margin) is { } percent) after = after with { EquivalenceMarginPercent = percent };
            if (parsed.GetValue(reference) is { } newReference) after = after with { ReferenceCondition = newReference };
            if (BasisOption.Read(parsed.GetValue(basis)) is { } newBasis) after = after with { SectionBasis = newBasis };
            if (parsed.GetValue(referenceSetting) is { } setting) after = after with
            { ReferenceSetting = DecimalText.Read("--reference-setting", setting) };
            if (parsed.GetValue(freeze)) after = StudyCorrections.Freeze(after, TimeProvider.System.GetUtcNow());

            if (after == before) throw new InputException(TerminalText.StudyChangeNothing);
            int revised = Keep(store, before, after, parsed.GetValue(reason));
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study = after.Id, changed = true, revisedRuns = revised });
            else if (revised > 0) CommandRunner.Say(TerminalText.StudyChangeRevised(revised));
            return ExitStatus.Done;
        });
    }

    /// <summary>Keeps a change with its reason, what it does to a frozen plan, and the runs that it makes others: all of it or
    /// none.</summary>
    /// <returns>How many runs were revised.</returns>
    internal static int Keep(StudyStore store, Study before, Study after, string? reason, string? runReason = null,
        DateTimeOffset? now = null)
    {
        bool freezing = before.PlanFrozenAt is null && after.PlanFrozenAt is not null;
        if (string.IsNullOrWhiteSpace(reason) && !freezing) throw new InputException(TerminalText.StudyReasonWanted);
        return store.Edit(after.Id, _ => after, reason ?? AppText.StudyPlanFrozen, runReason ?? reason ?? TerminalText.StudyChanged, now)
            .Revised;
    }

    /// <summary>To a print, or to its stretch at a setting: P02, or P02@240.</summary>
    private static Study Move(Study study, string specimen, string to)
    {
        int at = to.LastIndexOf('@');
        return at > 0 && study.Prints.All(print => print.Id != to)
            ? StudyCorrections.MoveSpecimen(study, specimen, to[..at], DecimalText.Read("--move-specimen", to[(at + 1)..]))
            : StudyCorrections.MoveSpecimen(study, specimen, to);
    }

    internal static (string Left, string Right)? Pair(string? text, string option)
    {
        if (text is null) return null;
        int equals = text.IndexOf('=', StringComparison.Ordinal);
        if (equals <= 0 || equals == text.Length - 1) throw new InputException(TerminalText.StudyPairExpected(option, text));
        return (text[..equals].Trim(), text[(equals + 1)..].Trim());
    }
}
