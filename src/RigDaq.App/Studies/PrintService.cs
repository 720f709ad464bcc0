using RigDaq.App.Runs;
using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Archive.Photos;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;

namespace RigDaq.App.Studies;

/// <summary>What is said of whole prints and of the plan's questions while the daemon runs; each is a further version with its
/// reason.</summary>
internal sealed class PrintService(RigArchive archive, StudyEditor changes, ILiveRig rig, TimeProvider time)
{
    /// <summary>Notes that a stretch could not be printed.</summary>
    internal Result NotPrinted(StretchRequest asked)
    {
        if (Against(asked.Study, asked.Text) is { } refusal) return refusal;
        // What was pulled is looked at together with the change: a pull that ends meanwhile is seen.
        return changes.Change(asked.Study, asked.Text, AppText.StudyNotPrinted(Place(asked), asked.Text.Trim(), asked.Tries), study =>
            StretchCorrections.CouldNotBePrinted(study, asked.Print, asked.Setting, new PrintFailure(asked.Text.Trim(), asked.Tries),
                Pulled(study.Id)));
    }

    /// <summary>Takes it back: the stretch was printed after all, and so many specimens were cut from it.</summary>
    internal Result Printed(StretchRequest asked)
    {
        string said = AppText.StudyNotPrintedTakenBack(Place(asked));
        return Against(asked.Study, said)
            ?? changes.Change(asked.Study, said, said,
            study => StretchCorrections.WasPrinted(study, asked.Print, asked.Setting, asked.Specimens));
    }

    /// <summary>Keeps a photo of a stretch that could not be printed.</summary>
    internal Result Photo(StretchRequest asked, byte[] photo)
    {
        if (Against(asked.Study, Place(asked)) is { } refusal) return refusal;
        string place = Place(asked);
        if (Find(asked)?.Failure is null) return Result.Refused("answers.photoOfNoFailure", ("place", place));
        return Result.Of(() =>
        {
            KeptPhoto kept = StudyPhotos.KeepOfPrint(archive.Folder, photo, PageText.Of("answers.thePhoto"));
            return changes.Change(asked.Study, place, AppText.StudyNotPrintedPhotoOf(place), study =>
                StretchCorrections.WithPhoto(study, asked.Print, asked.Setting, kept.Name, kept.Sha256));
        });
    }

    /// <summary>The photo of a stretch that could not be printed; null where there is none.</summary>
    internal (string Path, string MediaType)? PhotoOf(StretchRequest asked) =>
        Find(asked)?.Failure?.PhotoName is { } name ? StudyPhotos.Find(archive.Folder, name) : null;

    /// <summary>Says that prints which were entered one for each setting are one print.</summary>
    internal Result Join(JoinRequest asked)
    {
        string[] ids = [.. TextLines.Of(asked.Prints)];
        return Against(asked.Study, asked.Text)
            ?? changes.Change(asked.Study, asked.Text, AppText.StudyJoinedBecause(ids, asked.Text.Trim()),
                study => StretchCorrections.JoinPrints(study, ids));
    }

    /// <summary>Chooses what the plan asks, and freezes it where that is wanted.</summary>
    internal Result Questions(QuestionsRequest asked)
    {
        if (Study(asked.Study) is not { } study) return Result.Refused("answers.noSuchStudy");
        string[] names = [.. TextLines.Of(asked.Questions).Distinct()];
        if (names.Length == 0) return Result.Refused("answers.chooseQuestions");
        bool open = study.PlanFrozenAt is null;
        string why = asked.Text.Trim();
        if (TooLong(why) is { } refusal) return refusal;
        if (asked.Freeze)
        {
            Result frozen = changes.Change(asked.Study, AppText.StudyPlanFrozen, AppText.StudyPlanFrozen, now => now.PlanFrozenAt is null
                ? StudyCorrections.Freeze(With(now), time.GetUtcNow())
                : throw Refusal.Of("answers.frozenAlready"));
            return frozen.Done ? Result.Ok("answers.frozen") : frozen;
        }

        if (Same(study, With(study))) return Result.Ok("answers.questionsAsBefore");
        if (open && why.Length == 0) why = AppText.StudyQuestionsChosen;
        return changes.Change(asked.Study, why, why, With);

        Study With(Study now)
        {
            // A question that was narrowed to one group in the terminal stays as narrow as it was.
            ILookup<string, FrozenQuestion> kept = (now.PlannedQuestions ?? []).ToLookup(question => question.Question);
            FrozenQuestion[] chosen = [.. names.SelectMany(name => kept.Contains(name) ? kept[name] : [new FrozenQuestion(name)])];
            bool all = now.PlannedQuestions is null && now.PlanFrozenAt is null && QuestionNames.All.All(names.Contains);
            return now with
            {
                PlannedQuestions = all ? null : chosen,
                ReferenceMaterial = asked.ReferenceMaterial.Length > 0 ? asked.ReferenceMaterial : null,
                KeepsPercent = asked.KeepsPercent,
            };
        }
    }

    private static bool Same(Study one, Study other) => one.ReferenceMaterial == other.ReferenceMaterial
        && one.KeepsPercent == other.KeepsPercent
        && (one.PlannedQuestions is null ? other.PlannedQuestions is null : other.PlannedQuestions is not null
            && one.PlannedQuestions.SequenceEqual(other.PlannedQuestions));

    private static Result? TooLong(string text) =>
        text.Length > RunCorrections.TextLengthMax ? Result.Refused("answers.textTooLong", ("n", RunCorrections.TextLengthMax)) : null;

    // A sequence has the list of its specimens: it would asked for one that is gone.
    private Result? Against(string studyId, string why) => TooLong(why)
        ?? (rig.Snapshot.Sequence is { Stage: not SequenceStage.Finished } sequence && sequence.Plan.StudyId == studyId
            ? Result.Refused("answers.sequenceUnderWay") : null);

    private HashSet<string> Pulled(string studyId) => [.. archive.Runs.OfStudy(studyId).Select(run => run.Head.SpecimenId)];

    private Study? Study(string id) => id.Length is > 0 and <= RigArchive.LongestId ? archive.Studies.Find(id) : null;

    private Stretch? Find(StretchRequest asked)
        => Study(asked.Study)?.Prints.FirstOrDefault(print => print.Id == asked.Print)?.At(asked.Setting);

    private string Place(StretchRequest asked) => StretchName.Of(Study(asked.Study), asked.Print, asked.Setting);
}
