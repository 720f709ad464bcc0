using System.CommandLine;
using RigDaq.App.Runs;
using RigDaq.Core.Runs;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study look</c>: what the eye saw of a broken piece, best noted before its strength is looked at.</summary>
internal static class StudyLookCommand
{
    public static Command Create()
    {
        var id = new Argument<string>("STUDY") { Description = TerminalText.StudyId };
        var specimen = new Argument<string>("SPECIMEN") { Description = TerminalText.StudySpecimen };
        var location = new Option<string?>("--location")
        { Description = TerminalText.StudyLookLocation }.AcceptOnlyFromAmong([.. FractureWords.All]);
        var layer = new Option<string>("--layer") { Description = TerminalText.StudyLookLayer, DefaultValueFactory = _ => "" };
        var appearance = new Option<string>("--appearance")
        { Description = TerminalText.StudyLookAppearance, DefaultValueFactory = _ => "" };
        var photo = new Option<string?>("--photo") { Description = TerminalText.StudyLookPhoto, HelpName = "FILE" };
        return new Command("look", TerminalText.StudyLookCommand) { id, specimen, location, layer, appearance, photo, StudyStore.Data,
            StudyStore.Config }.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed);
            Run run = StudyVoidCommand.LatestRun(store, parsed.GetRequiredValue(id), parsed.GetRequiredValue(specimen));
            DateTimeOffset now = TimeProvider.System.GetUtcNow();
            var look = new FractureLook
            {
                Location = FractureWords.Location(parsed.GetValue(location)),
                Layer = parsed.GetRequiredValue(layer),
                Appearance = parsed.GetRequiredValue(appearance),
                At = now,
            }.With(parsed.GetValue(photo) is { } file ? StudyPhotos.Keep(store.Folder, run.Head.RunId, run.Revision + 1, file) : null,
                run.Look);
            Run revised = store.Runs.Correct(run.Head.RunId, run.Revision, latest => RunCorrections.Look(latest, look, now));
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new
            { run = revised.Head.RunId, revision = revised.Revision, photo = look.PhotoName });
            else CommandRunner.Say(TerminalText.StudyRunRevised(revised.Head.SpecimenId, revised.Revision, revised.RevisionReason));
            return ExitStatus.Done;
        });
    }
}
