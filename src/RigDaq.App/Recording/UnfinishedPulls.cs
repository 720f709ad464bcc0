using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;

namespace RigDaq.App.Recording;

/// <summary>
/// What a crash or a full disk left without a run gets one at the start. A pull that cannot be stored is said and keeps nobody from the
/// rig: where the disk or the database is at fault it is tried again at the next start, where the pull itself is its capture is set aside.
/// </summary>
internal static class UnfinishedPulls
{
    internal static void Store(RigArchive archive, PullRecorder recorder, Action<Sentence> say)
    {
        foreach (PullRecord pull in Find(archive, say))
        {
            try
            {
                Run run = recorder.Record(pull);
                say(AppText.ServePullCutShort(run.Head.SpecimenId, run.Head.StartedAt, pull.Trace.Samples.Count, run.Ending.Word()));
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                say(AppText.ServePullNotStored(pull.Head.SpecimenId, pull.Head.StartedAt, e.Message));
            }
            catch (Exception e)
            {
                SetAside(archive, pull.Head, e, say);
            }
        }
    }

    private static IReadOnlyList<PullRecord> Find(RigArchive archive, Action<Sentence> say)
    {
        try
        {
            return archive.Captures.FindUnfinished();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            say(AppText.ServeCapturesNotRead(e.Message));
            return [];
        }
    }

    private static void SetAside(RigArchive archive, PullHead head, Exception why, Action<Sentence> say)
    {
        try
        {
            say(AppText.ServePullSetAside(head.SpecimenId, head.StartedAt, why.Message, archive.SetCaptureAside(head.RunId)));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            say(AppText.ServePullNotStored(head.SpecimenId, head.StartedAt, $"{why.Message} {e.Message}"));
        }
    }
}
