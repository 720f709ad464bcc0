namespace RigDaq.Archive.Faults;

/// <summary>The journal could not be written.</summary>
/// <param name="written">Whether all is in the file and only its flush to the disk failed: then it is not known whether it is kept.</param>
/// <param name="inner">What failed.</param>
internal sealed class JournalFailedException(bool written, Exception inner) : Exception(inner.Message, inner)
{
    public bool Written => written;
}
