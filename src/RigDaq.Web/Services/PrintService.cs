using RigDaq.App;
using RigDaq.App.Runs;
using RigDaq.App.Studies;
using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Archive.Photos;
using RigDaq.Core;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;

namespace RigDaq.Web.Services;

/// <summary>What is said of whole prints and of the plan's questions while the daemon runs; each is a further version with its reason.</summary>
internal sealed class PrintService(RigArchive archive, RunShelf shelf, StudyEditor changes, ILiveRig rig, TimeProvider time)
{
    /// <summary>Notes that a stretch could not be printed.</summary>
    internal Result NotPrinted(StretchRequest ask)
    {
        if (Against(ask.Study, ask.Text) is { } refusal) return refusal;
        // What was pulled is looked at together with the change: a pull that ends meanwhile is seen.
        return changes.Change(ask.Study, ask.Text, AppText.StudyNotPrinted(Place(ask), ask.Text.Trim(), ask.Tries), study =>
            StretchCorrections.CouldNotBePrinted(study, ask.Print, ask.Setting, Failure(study, ask), Pulled(study.Id)));
    }

    /// <summary>Takes it back: the stretch was printed after all, and so many specimens were cut from it.</summary>
    internal Result Printed(StretchRequest ask)
    {
        string said = AppText.StudyNotPrintedTakenBack(Place(ask));
        return Against(ask.Study, said) ?? changes.Change(ask.Study, said, said, study => StretchCorrections.WasPrinted(study, ask.Print, ask.Setting, ask.Specimens));
    }

    /// <summary>Keeps a photo of a stretch that could not be printed.</summary>
    internal Result Photo(StretchRequest ask, byte[] photo)
    {
        if (Against(ask.Study, Place(ask)) is { } refusal) return refusal;
        string place = Place(ask);
        if (Find(ask)?.Failure is null) return Result.Refused("answers.photoOfNoFailure", ("place", place));
        try
        {
            KeptPhoto kept = StudyPhotos.KeepOfPrint(shelf.DataFolder, photo, PageText.Of("answers.thePhoto"));
            return changes.Change(ask.Study, place, AppText.StudyNotPrintedPhotoOf(place), study =>
                StretchCorrections.WithPhoto(study, ask.Print, ask.Setting, kept.Name, kept.Sha256));
        }
        catch (RefusalException fault)
        {
            return Result.Because(fault.Message);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return Result.Refused("answers.notKept", ("why", fault.Message));
        }
    }

    /// <summary>The photo of a stretch that could not be printed; null where there is none.</summary>
    internal (string Path, string MediaType)? PhotoOf(StretchRequest ask) =>
        Find(ask)?.Failure?.PhotoName is { } name ? StudyPhotos.Find(shelf.DataFolder, name) : null;

    /// <summary>Says that prints which were entered one for each setting are one print.</summary>
    internal Result Join(JoinRequest ask)
    {
        string[] ids = [.. TextLines.Of(ask.Prints)];
        return Against(ask.Study, ask.Text)
            ?? changes.Change(ask.Study, ask.Text, AppText.StudyJoinedBecause(ids, ask.Text.Trim()), study => StretchCorrections.JoinPrints(study, ids));
    }

    /// <summary>Chooses what the plan asks, and freezes it where that is wanted.</summary>
    internal Result Questions(QuestionsRequest ask)
    {
        if (Study(ask.Study) is not { } study) return Result.Refused("answers.noSuchStudy");
        string[] names = [.. TextLines.Of(ask.Questions).Distinct()];
        if (names.Length == 0) return Result.Refused("answers.chooseQuestions");
        bool open = study.PlanFrozenAt is null;
        string why = ask.Text.Trim();
        if (TooLong(why) is { } refusal) return refusal;
        if (ask.Freeze)
        {
            Result frozen = changes.Change(ask.Study, AppText.StudyPlanFrozen, AppText.StudyPlanFrozen, now => now.PlanFrozenAt is null
                ? StudyCorrections.Freeze(With(now), time.GetUtcNow())
                : throw Refusal.Of("answers.frozenAlready"));
            return frozen.Done ? Result.Ok(PageText.Of("answers.frozen")) : frozen;
        }

        if (Same(study, With(study))) return Result.Ok(PageText.Of("answers.questionsAsBefore"));
        if (open && why.Length == 0) why = AppText.StudyQuestionsChosen;
        return changes.Change(ask.Study, why, why, With);

        Study With(Study now)
        {
            // A question that was narrowed to one group in the terminal stays as narrow as it was.
            ILookup<string, FrozenQuestion> kept = (now.PlannedQuestions ?? []).ToLookup(question => question.Question);
            FrozenQuestion[] asked = [.. names.SelectMany(name => kept.Contains(name) ? kept[name] : [new FrozenQuestion(name)])];
            bool all = now.PlannedQuestions is null && now.PlanFrozenAt is null && QuestionNames.All.All(names.Contains);
            return now with
            {
                PlannedQuestions = all ? null : asked,
                ReferenceMaterial = ask.ReferenceMaterial.Length > 0 ? ask.ReferenceMaterial : null,
                KeepsPercent = ask.KeepsPercent,
            };
        }
    }

    private static bool Same(Study one, Study other) => one.ReferenceMaterial == other.ReferenceMaterial && one.KeepsPercent == other.KeepsPercent
        && (one.PlannedQuestions is null ? other.PlannedQuestions is null : other.PlannedQuestions is not null && one.PlannedQuestions.SequenceEqual(other.PlannedQuestions));

    private static PrintFailure Failure(Study study, StretchRequest ask)
    {
        // Said again it is a correction of the reason; the photo stays.
        PrintFailure? before = study.Prints.FirstOrDefault(print => print.Id == ask.Print)?.At(ask.Setting)?.Failure;
        return new PrintFailure(ask.Text.Trim(), ask.Tries, before?.PhotoName, before?.PhotoSha256);
    }

    private static Result? TooLong(string text) =>
        text.Length > RunCorrections.TextLengthMax ? Result.Refused("answers.textTooLong", ("n", RunCorrections.TextLengthMax)) : null;

    // A sequence has the list of its specimens: it would ask for one that is gone.
    private Result? Against(string studyId, string why) => TooLong(why)
        ?? (rig.Snapshot.Sequence is { Stage: not SequenceStage.Finished } sequence && sequence.Plan.StudyId == studyId ? Result.Refused("answers.sequenceUnderWay") : null);

    private HashSet<string> Pulled(string studyId) => [.. archive.OfStudy(studyId).Select(run => run.Head.SpecimenId)];

    private Study? Study(string id) => id.Length is > 0 and <= RigArchive.LongestId ? archive.Studies.Find(id) : null;

    private Stretch? Find(StretchRequest ask) => Study(ask.Study)?.Prints.FirstOrDefault(print => print.Id == ask.Print)?.At(ask.Setting);

    private string Place(StretchRequest ask) => StretchName.Of(Study(ask.Study), ask.Print, ask.Setting);
}
