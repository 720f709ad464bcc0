namespace RigDaq.Archive.Faults;

/// <summary>
/// The data folder cannot be used as it is: in use by another process, written by a newer version, or damaged beyond what
/// can be put right without a person. The message says what, where, and what to do; nothing was changed.
/// </summary>
public sealed class ArchiveException : IOException
{
    /// <summary>Made with a message for a person.</summary>
    public ArchiveException(string message) : base(message) { }

    /// <summary>Made with a message for a person and what led to it.</summary>
    public ArchiveException(string message, Exception? innerException) : base(message, innerException) { }

    /// <summary>Made without a message.</summary>
    public ArchiveException() { }

    /// <summary>Whether another process has the folder.</summary>
    public bool IsInUse { get; init; }
}
