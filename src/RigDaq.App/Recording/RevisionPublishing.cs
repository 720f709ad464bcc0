using RigDaq.Archive;
using RigDaq.Core.Runs;
using RigDaq.Publishing.Messages;

namespace RigDaq.App.Recording;

/// <summary>Corrections as listeners hear of them.</summary>
internal static class RevisionPublishing
{
    /// <summary>Keeps a further revision of a run together with its message; the message leaves when a broker takes it, now or at the
    /// daemon's next start.</summary>
    public static void ReviseAndPublish(this RigArchive archive, Run revised) =>
        archive.Runs.Revise(revised, [RunMessage.From(revised, archive.Studies.Find(revised.Head.StudyId)).ToOutbox()]);
}
