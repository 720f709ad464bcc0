namespace RigDaq.Archive.Faults;

/// <summary>What was to be kept contradicts what is kept: another content under the same id, or a revision out of turn.</summary>
public sealed class ArchiveConflictException : InvalidOperationException
{
    /// <summary>Made with a message for a person.</summary>
    public ArchiveConflictException(string message) : base(message) { }

    /// <summary>Made with a message for a person and what led to it.</summary>
    public ArchiveConflictException(string message, Exception? innerException) : base(message, innerException) { }

    /// <summary>Made without a message.</summary>
    public ArchiveConflictException() { }
}
