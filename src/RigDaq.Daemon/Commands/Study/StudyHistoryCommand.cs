using System.CommandLine;
using System.Globalization;
using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Core.Callers;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study history</c> and <c>study back</c>: every version with its time and reason, and the way back to each.</summary>
internal static class StudyHistoryCommand
{
    public static Command Create()
    {
        var id = new Argument<string>("STUDY") { Description = TerminalText.StudyId };
        var specimen = new Option<string?>("--specimen") { Description = TerminalText.StudyHistorySpecimen };
        return new Command("history", TerminalText.StudyHistoryCommand)
            { id, specimen, StudyStore.Data, StudyStore.Config }.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed);
            IReadOnlyList<VersionLine> versions = Versions(store, parsed.GetRequiredValue(id), parsed.GetValue(specimen));
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { versions });
            else foreach (VersionLine version in versions) CommandPlace.Output.WriteLine(string
                .Create(CultureInfo.InvariantCulture,
                $"{version.Number,4}  {version.At:yyyy-MM-dd HH:mm:ss}  {version.Reason}{(version.By is { } by ? $"  {by}" : "")}"));
            return ExitStatus.Done;
        });
    }

    public static Command CreateBack()
    {
        var id = new Argument<string>("STUDY") { Description = TerminalText.StudyId };
        var number = new Argument<int>("VERSION") { Description = TerminalText.StudyBackVersion };
        var specimen = new Option<string?>("--specimen") { Description = TerminalText.StudyBackSpecimen };
        var reason = new Option<string>("--reason") { Description = TerminalText.StudyBackReason, Required = true };
        return new Command("back", TerminalText.StudyBackCommand)
            { id, number, specimen, reason, StudyStore.Data, StudyStore.Config }.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed);
            Back(store, parsed.GetRequiredValue(id), parsed.GetValue(number), parsed.GetValue(specimen), parsed.GetRequiredValue(reason),
                TimeProvider.System.GetUtcNow());
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new
            { study = parsed.GetRequiredValue(id), back = parsed.GetValue(number) });
            return ExitStatus.Done;
        });
    }

    internal static IReadOnlyList<VersionLine> Versions(StudyStore store, string studyId, string? specimenId)
    {
        if (specimenId is not null)
            return [.. store.Archive.Runs.Revisions(StudyVoidCommand.LatestRun(store, studyId, specimenId).Head.RunId)
                .Select(r => new VersionLine(r.Revision, r.RevisedAt, r.Revision == 0 ? TerminalText.StudyHistoryPulled
                : r.RevisionReason, r.By))];
        store.Require(studyId);
        return [.. store.Archive.Studies.Versions(studyId)
            .Select((version, i) => new VersionLine(i + 1, version.At, version.Reason, version.By))];
    }

    internal static void Back(StudyStore store, string studyId, int number, string? specimenId, string reason, DateTimeOffset now)
    {
        if (string.IsNullOrWhiteSpace(reason)) throw new InputException(TerminalText.StudyReasonWanted);
        if (specimenId is not null)
        {
            Run latest = StudyVoidCommand.LatestRun(store, studyId, specimenId);
            Run earlier = store.Archive.Runs.Revisions(latest.Head.RunId).FirstOrDefault(r => r.Revision == number)
                ?? throw new InputException(TerminalText.StudyRunHasNoRevision(studyId, specimenId, number));
            store.Runs.Correct(latest.Head.RunId, latest.Revision, run => RunCorrections.Reverse(run, earlier, reason, now));
            return;
        }

        Study before = store.Require(studyId);
        IReadOnlyList<StudyVersion> versions = store.Archive.Studies.Versions(studyId);
        if (number < 1
            || number > versions.Count) throw new InputException(TerminalText.StudyHasNoVersion(studyId, number, versions.Count));
        Study after = versions[number - 1].Study;
        StudyChangeCommand.Keep(store, before, after, AppText.StudyBackTo(number, reason), reason, now);
    }

    /// <summary>A version for people.</summary>
    internal sealed record VersionLine(int Number, DateTimeOffset At, string Reason, By? By);
}
