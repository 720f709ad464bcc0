using RigDaq.App.Callers;
using RigDaq.Archive;
using RigDaq.Archive.Faults;
using RigDaq.Daemon.Terminal;

namespace RigDaq.Daemon.Commands;

/// <summary>A data folder that a command has open: for itself, alone and only so long, or that of the daemon that it runs in.</summary>
internal sealed class OpenFolder : IDisposable
{
    private readonly bool _isOwn;

    private OpenFolder(RigArchive archive, bool isOwn) => (Archive, _isOwn) = (archive, isOwn);

    /// <summary>What is kept in it.</summary>
    public RigArchive Archive { get; }

    /// <summary>Opens a folder, and makes it where it is not there.</summary>
    /// <exception cref="FolderHeldException">Another process has it: a daemon, as a rule, which then does the command.</exception>
    /// <exception cref="IOException">It cannot be opened.</exception>
    public static OpenFolder At(string path)
    {
        string whole = Path.GetFullPath(path);
        if (CommandPlace.OfDaemon is { } daemon && daemon.Archive.Folder == whole) return new OpenFolder(daemon.Archive, false);
        try
        {
            // What a command keeps is its user's doing.
            return new OpenFolder(
                new RigArchive(path, TimeProvider.System, TerminalLogger.Instance) { Who = () => Caller.OfThisUser.By }, true);
        }
        catch (ArchiveException e) when (e.IsInUse)
        {
            throw new FolderHeldException(whole, e);
        }
    }

    public void Dispose()
    {
        if (_isOwn) Archive.Dispose();
    }
}
