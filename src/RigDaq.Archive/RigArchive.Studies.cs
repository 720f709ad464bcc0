using RigDaq.Core.Specimens;

namespace RigDaq.Archive;

public sealed partial class RigArchive
{
    private readonly Lock _changing = new();

    /// <inheritdoc/>
    public Study? Change(string studyId, Func<Study, Study> change, string reason)
    {
        lock (_changing)
        {
            if (((IStudyArchive)this).Find(studyId) is not { } before) return null;
            Study after = change(before);
            if (!ReferenceEquals(before, after)) Save(after, reason);
            return after;
        }
    }
}
