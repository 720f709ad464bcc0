using System.CommandLine;
using RigDaq.App.Input;
using RigDaq.Core.Runs;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study void</c>: leaves a specimen's run out of its group, or takes that back.</summary>
internal static class StudyVoidCommand
{
    public static Command Create()
    {
        var id = new Argument<string>("STUDY") { Description = TerminalText.StudyId };
        var specimen = new Argument<string>("SPECIMEN") { Description = TerminalText.StudySpecimen };
        Option<string?> kind = VoidOption.Create();
        var text = new Option<string>("--text") { Description = TerminalText.StudyVoidWords, Required = true };
        var back = new Option<bool>("--take-back") { Description = TerminalText.StudyVoidTakeBack };
        return new Command("void", TerminalText.StudyVoidCommand)
            { id, specimen, kind, text, back, StudyStore.Data, StudyStore.Config }.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed);
            Run run = Void(store, parsed.GetRequiredValue(id), parsed.GetRequiredValue(specimen), VoidOption.Read(parsed.GetValue(kind)),
                parsed.GetRequiredValue(text), parsed.GetValue(back), TimeProvider.System.GetUtcNow());
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new
            { run = run.Head.RunId, revision = run.Revision, voided = run.Void is not null });
            else CommandRunner.Say(TerminalText.StudyRunRevised(run.Head.SpecimenId, run.Revision, run.RevisionReason));
            return ExitStatus.Done;
        });
    }

    internal static Run Void(StudyStore store, string studyId, string specimenId, VoidKind? kind, string text, bool back,
        DateTimeOffset now)
    {
        Run run = LatestRun(store, studyId, specimenId);
        if (!back && kind is null) throw new InputException(TerminalText.StudyVoidKindWanted);
        return store.Runs.Correct(run.Head.RunId, run.Revision, latest => back ? RunCorrections.Restore(latest, text, now)
            : RunCorrections.Void(latest, kind!.Value, text, now));
    }

    /// <summary>The last run of a specimen.</summary>
    /// <exception cref="InputException">There is no such study, or it has no run of that specimen.</exception>
    internal static Run LatestRun(StudyStore store, string studyId, string specimenId)
    {
        store.Require(studyId);
        return store.Archive.Runs.OfStudy(studyId).LastOrDefault(r => r.Head.SpecimenId == specimenId)
            ?? throw new InputException(TerminalText.StudyHasNoRunOf(studyId, specimenId));
    }
}
