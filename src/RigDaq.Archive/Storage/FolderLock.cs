using RigDaq.Archive.Faults;
using RigDaq.Archive.Text;

namespace RigDaq.Archive.Storage;

/// <summary>
/// Keeps a second process out of a data folder. LiteDB does not refuse one on Linux, and two writers destroy the file.
/// </summary>
internal sealed class FolderLock : IDisposable
{
    private const int WouldBlockLinux = 11;
    private const int WouldBlockMac = 35;
    private const int SharingViolationWindows = unchecked((int)0x80070020);
    private readonly FileStream _file;

    private FolderLock(FileStream file) => _file = file;

    /// <exception cref="ArchiveException">Another process has the folder.</exception>
    public static FolderLock Take(ArchiveFolder folder)
    {
        try
        {
            return new FolderLock(OwnersFile.Open(folder.Lock, FileMode.OpenOrCreate, FileAccess.ReadWrite));
        }
        catch (UnauthorizedAccessException e)
        {
            throw new ArchiveException(ArchiveText.FolderNotAllowed(folder.Path), e);
        }
        catch (IOException e) when (e.HResult is not (WouldBlockLinux or WouldBlockMac or SharingViolationWindows))
        {
            throw new ArchiveException(ArchiveText.FolderNotUsable(folder.Path, e.Message), e);
        }
        catch (IOException e)
        {
            throw new ArchiveException(ArchiveText.FolderInUse(folder.Path), e) { IsInUse = true };
        }
    }

    // The file stays: deleting it would let a third process lock a new file of the same name while a second holds the old one.
    public void Dispose() => _file.Dispose();
}
