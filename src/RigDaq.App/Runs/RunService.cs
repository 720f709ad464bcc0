using RigDaq.App.Recording;
using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Archive.Photos;
using RigDaq.Core.Runs;

namespace RigDaq.App.Runs;

/// <summary>Corrects runs, for pages and commands alike: every correction is a further revision with its message, one at a time.</summary>
internal sealed class RunService(RigArchive archive, TimeProvider time)
{
    /// <summary>A run by its id, or null.</summary>
    public Run? Find(string runId) => runId.Length is > 0 and <= RigArchive.LongestId ? archive.Runs.Find(runId) : null;

    /// <summary>The photo that a revision names; null where there is none.</summary>
    public (string Path, string MediaType)? Photo(string runId, int revision) =>
        Find(runId) is not null && archive.Runs.Revisions(runId).FirstOrDefault(r => r.Revision == revision)?.Look?.PhotoName is { } name
            ? StudyPhotos.Find(archive.Folder, name) : null;

    /// <summary>Excludes a run from its group.</summary>
    public Result Exclude(RunRequest asked) => Correct(asked, (run, now) => VoidWords.Find(asked.Kind) is { } kind
        ? RunCorrections.Void(run, kind, asked.Text, now)
        : throw Refusal.Of("answers.chooseReason"));

    /// <summary>Includes it again.</summary>
    public Result Include(RunRequest asked) => Correct(asked, (run, now) => RunCorrections.Restore(run, asked.Text, now));

    /// <summary>Keeps what was seen of the broken piece.</summary>
    public Result Inspect(RunRequest asked) => Correct(asked, (run, now) => RunCorrections.Look(run, new FractureLook
    {
        Location = FractureWords.Location(asked.Location),
        Layer = asked.Layer.Trim(),
        Appearance = asked.Appearance.Trim(),
        At = now,
    }.With(null, run.Look), now));

    /// <summary>Keeps a photo of the broken piece beside what was seen of it.</summary>
    public Result KeepPhoto(RunRequest asked, byte[] photo) => Correct(asked, (run, now) =>
    {
        KeptPhoto kept = StudyPhotos.Keep(archive.Folder, run.Head.RunId, run.Revision + 1, photo, PageText.Of("answers.thePhoto"));
        return RunCorrections.Look(run, ((run.Look ?? new FractureLook { At = now }) with { At = now }).With(kept, run.Look), now);
    });

    /// <summary>Brings an earlier revision back as a further one.</summary>
    public Result Back(RunRequest asked) => Correct(asked, (run, now) =>
    {
        Run earlier = archive.Runs.Revisions(run.Head.RunId).FirstOrDefault(r => r.Revision == asked.To)
            ?? throw Refusal.Of("answers.noSuchRevision");
        return RunCorrections.Reverse(run, earlier, asked.Text, now);
    });

    /// <summary>Keeps a further revision, made of the run as it is at that moment.</summary>
    /// <param name="runId">Which run.</param>
    /// <param name="shown">The revision that the person saw; null where that does not matter.</param>
    /// <param name="correct">The correction.</param>
    /// <exception cref="Core.RefusalException">There is no such run, it was corrected meanwhile, or the correction is refused.</exception>
    public Run Correct(string runId, int? shown, Func<Run, Run> correct)
    {
        lock (archive.Studies.Correcting)
        {
            Run run = Find(runId) ?? throw Refusal.Of("answers.noSuchRun");
            if (shown is { } seen && run.Revision != seen) throw Refusal.Of("answers.correctedMeanwhile");
            Run revised = correct(run);
            archive.ReviseAndPublish(revised);
            return revised;
        }
    }

    private Result Correct(RunRequest asked, Func<Run, DateTimeOffset, Run> correct) => Result.Of(
        () =>
        {
            Run revised = Correct(asked.Run, asked.Seen, run => correct(run, time.GetUtcNow()));
            return Result.Ok("answers.keptAsRevision", ("n", revised.Revision), ("reason", revised.RevisionReason));
        },
        "answers.correctedMeanwhile");
}
