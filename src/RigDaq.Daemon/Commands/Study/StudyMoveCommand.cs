using System.CommandLine;
using RigDaq.App.Input;
using RigDaq.App.Studies;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study move</c>: a run belongs to another specimen than the one that was named.</summary>
internal static class StudyMoveCommand
{
    public static Command Create()
    {
        var id = new Argument<string>("STUDY") { Description = TerminalText.StudyId };
        var from = new Argument<string>("FROM") { Description = TerminalText.StudyMoveFrom };
        var to = new Argument<string>("TO") { Description = TerminalText.StudyMoveTo };
        var reason = new Option<string>("--reason") { Description = TerminalText.StudyMoveReason, Required = true };
        return new Command("move", TerminalText.StudyMoveCommand)
            { id, from, to, reason, StudyStore.Data, StudyStore.Config }.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed);
            Run run = Move(store, parsed.GetRequiredValue(id), parsed.GetRequiredValue(from), parsed.GetRequiredValue(to),
                parsed.GetRequiredValue(reason), TimeProvider.System.GetUtcNow());
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new
            { run = run.Head.RunId, specimen = run.Head.SpecimenId, revision = run.Revision });
            else CommandRunner.Say(TerminalText.StudyRunRevised(run.Head.SpecimenId, run.Revision, run.RevisionReason));
            return ExitStatus.Done;
        });
    }

    internal static Run Move(StudyStore store, string studyId, string from, string to, string reason, DateTimeOffset now)
    {
        Study study = store.Require(studyId);
        if (study.Specimens.All(s => s.Id != to)) throw new InputException(TerminalText.StudyHasNoSpecimen(studyId, to));
        Run run = StudyVoidCommand.LatestRun(store, studyId, from);
        Run moved = RunCorrections.MoveTo(run, to, reason, now);

        StudyRecompute.Move(store.Archive, moved, TerminalText.StudyMoved(from, to), now);
        return store.Archive.Runs.Find(run.Head.RunId)!;
    }
}
