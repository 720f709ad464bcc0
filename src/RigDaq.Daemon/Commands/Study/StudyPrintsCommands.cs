using System.CommandLine;
using RigDaq.App.Input;
using RigDaq.App.Runs;
using RigDaq.App.Studies;
using RigDaq.App.Text;
using RigDaq.Archive.Photos;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>What is said of whole prints: <c>study not-printed</c> and <c>study join-prints</c>.</summary>
internal static class StudyPrintsCommands
{
    public static Command CreateNotPrinted()
    {
        var id = new Argument<string>("STUDY") { Description = TerminalText.StudyId };
        var print = new Argument<string>("PRINT") { Description = TerminalText.StudyNotPrintedPrint };
        var setting = new Option<string?>("--setting") { Description = TerminalText.StudyNotPrintedSetting };
        var reason = new Option<string?>("--reason") { Description = TerminalText.StudyNotPrintedReason };
        var tries = new Option<int>("--tries") { Description = TerminalText.StudyNotPrintedTries, DefaultValueFactory = _ => 1 };
        var photo = new Option<string?>("--photo") { Description = TerminalText.StudyNotPrintedPhoto, HelpName = "FILE" };
        var back = new Option<int?>("--take-back") { Description = TerminalText.StudyNotPrintedBack, HelpName = "SPECIMENS" };
        return new Command("not-printed", TerminalText.StudyNotPrintedCommand)
            { id, print, setting, reason, tries, photo, back, StudyStore.Data, StudyStore.Config }.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed);
            string study = parsed.GetRequiredValue(id), named = parsed.GetRequiredValue(print);
            decimal? at = parsed.GetValue(setting) is { } text ? DecimalText.Read("--setting", text) : null;
            string said = parsed.GetValue(back) is { } specimens
                ? TakeBack(specimens)
                : Mark(store, new NotPrinted(study, named, at, parsed.GetValue(reason), parsed.GetValue(tries), parsed.GetValue(photo)));
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study, print = named, setting = at, changed = true });
            else CommandRunner.Say(said);
            return ExitStatus.Done;

            string TakeBack(int specimens)
            {
                string back = AppText.StudyNotPrintedTakenBack(StretchName.Of(store.Require(study), named, at));
                store.Edit(study, now => StretchCorrections.WasPrinted(now, named, at, specimens), back);
                return back;
            }
        });
    }

    public static Command CreateJoin()
    {
        var id = new Argument<string>("STUDY") { Description = TerminalText.StudyId };
        var prints = new Argument<string>("PRINTS") { Description = TerminalText.StudyJoinPrints };
        var reason = new Option<string>("--reason") { Description = TerminalText.StudyJoinReason, Required = true };
        return new Command("join-prints", TerminalText.StudyJoinCommand)
            { id, prints, reason, StudyStore.Data, StudyStore.Config }.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed);
            string study = parsed.GetRequiredValue(id);
            Print joined = Join(store, study, parsed.GetRequiredValue(prints), parsed.GetRequiredValue(reason));
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new
            { study, print = joined.Id, settings = joined.Stretches.Select(s => s.Setting) });
            else CommandRunner.Say(TerminalText.StudyJoined(joined.Id, joined.Describe(store.Require(study).SettingUnit)));
            return ExitStatus.Done;
        });
    }

    /// <exception cref="InputException">They cannot be one print, and why.</exception>
    internal static Print Join(StudyStore store, string studyId, string prints, string reason)
    {
        string[] ids = prints.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        Study study = store.Edit(studyId, now => StretchCorrections.JoinPrints(now, ids), AppText.StudyJoinedBecause(ids, reason)).Study;
        return study.Prints.Single(print => print.Id == ids[0]);
    }

    /// <exception cref="InputException">It was printed, or something is missing.</exception>
    internal static string Mark(StudyStore store, NotPrinted said)
    {
        (string studyId, string print, decimal? setting, string? reason, int tries, string? photoFile) = said;
        if (string.IsNullOrWhiteSpace(reason)) throw new InputException(TerminalText.StudyNotPrintedReasonWanted);
        string why = AppText.StudyNotPrinted(StretchName.Of(store.Require(studyId), print, setting), reason.Trim(), tries);
        // Refused before a photo is kept that nothing would name.
        Marked(store.Require(studyId), null);
        KeptPhoto? photo = photoFile is null ? null : StudyPhotos.KeepOfPrint(store.Folder, photoFile);
        store.Edit(studyId, now => Marked(now, photo), why);
        return why;

        Study Marked(Study study, KeptPhoto? kept) => StretchCorrections.CouldNotBePrinted(study, print, setting,
            new PrintFailure(reason.Trim(), tries, kept?.Name, kept?.Sha256),
            store.Archive.Runs.OfStudy(studyId).Select(run => run.Head.SpecimenId).ToHashSet());
    }

    /// <summary>What is said of a stretch that could not be printed.</summary>
    internal sealed record NotPrinted(string Study, string Print, decimal? Setting, string? Reason, int Tries, string? Photo);
}
