using RigDaq.Archive.Faults;

namespace RigDaq.Daemon.Commands;

/// <summary>Another process has the data folder of a command that could be done by whoever has it.</summary>
/// <param name="folder">Which folder.</param>
/// <param name="held">What was said of it.</param>
internal sealed class FolderHeldException(string folder, ArchiveException held) : IOException(held.Message, held)
{
    /// <summary>The folder's whole path.</summary>
    public string Folder => folder;
}
