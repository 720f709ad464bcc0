using RigDaq.Archive.Faults;
using RigDaq.Archive.Storage;

namespace RigDaq.Archive.Journaling;

/// <summary>
/// The journal beside the captures: one entry a line, written at its end. An entry is on the disk before the database is changed for good;
/// what the database missed is done again at the next start. Once it is long its lines go to <see cref="PackedJournal"/>.
/// </summary>
internal sealed class ArchiveJournal : IDisposable
{
    private readonly string _path;
    private readonly DiskSync _sync;
    private FileStream _file;

    public ArchiveJournal(ArchiveFolder folder, DiskSync sync)
    {
        _path = folder.Journal;
        _sync = sync;
        bool existed = File.Exists(_path);
        _file = Open();
        if (!existed) sync.Folder(folder.Path);
    }

    /// <summary>How long it is, in bytes.</summary>
    public long Length => new FileInfo(_path).Length;

    /// <summary>Writes entries; they are on the disk when this returns.</summary>
    /// <returns>The length of the journal with them.</returns>
    /// <exception cref="JournalFailedException">They are not, or it is not known.</exception>
    public long Append(IEnumerable<JournalEntry> entries)
    {
        byte[] lines = [.. entries.SelectMany(JournalLine.Of)];
        bool written = false;
        try
        {
            if (!_file.CanWrite) _file = Open();
            LineEnds.Mend(_file, _sync, line => JournalLine.Parse(line) is not null);
            _sync.Write(_file, lines);
            written = true;
            _sync.File(_file);
            return Length;
        }
        catch (Exception e)
        {
            // After a failed flush the system may call the next one a success: only a new handle is to be trusted.
            _file.Dispose();
            throw new JournalFailedException(written, e);
        }
    }

    /// <summary>The entry whose line ends at a place; null where none does.</summary>
    public JournalEntry? EndingAt(long place) => LineEnds.EndingAt(_path, place) is { } line ? JournalLine.Parse(line) : null;

    /// <summary>Takes everything out of it, on the disk too.</summary>
    /// <exception cref="IOException">It is not known whether it is empty on the disk.</exception>
    public void Empty()
    {
        // What was opened to be written at its end cannot be cut.
        _file.Dispose();
        using (FileStream file = OwnersFile.Open(_path, FileMode.OpenOrCreate, share: FileShare.Read | FileShare.Delete, bufferSize: 0))
        {
            _sync.Cut(file, 0);
            _sync.File(file);
        }

        _file = Open();
    }

    /// <summary>All entries from a place on, in order, and what could not be read. Of entries that were kept together come all or
    /// none.</summary>
    /// <param name="from">A length that <see cref="Append"/> returned, or 0.</param>
    /// <param name="damaged">Told each damaged line; one that was cut off is none.</param>
    public IEnumerable<JournalEntry> Read(long from, Action<JournalLine> damaged) => WholeBatches(JournalLine.Read(_path, from), damaged);

    /// <inheritdoc cref="Read"/>
    public static IEnumerable<JournalEntry> WholeBatches(IEnumerable<JournalLine> lines, Action<JournalLine> damaged)
    {
        var waiting = new List<JournalEntry>();
        foreach (JournalLine line in lines)
        {
            if (line.State == LineState.Damaged)
            {
                damaged(line);
                // It may be the very line that ended the batch: what can be read was kept then.
                foreach (JournalEntry entry in waiting) yield return entry;
                waiting.Clear();
            }

            if (line.Entry is not { } read) continue;
            // Numbers are given again where a batch was cut off: they rise within one.
            if (waiting.Count > 0 && (read.Batch != waiting[0].Batch || read.Number <= waiting[^1].Number)) waiting.Clear();
            if (read.Batch is { } last && read.Number < last)
            {
                waiting.Add(read);
                continue;
            }

            foreach (JournalEntry entry in waiting) yield return entry;
            waiting.Clear();
            yield return read;
        }
    }

    public void Dispose() => _file.Dispose();

    private FileStream Open() =>
        OwnersFile.Open(_path, FileMode.Append, share: FileShare.Read | FileShare.Delete, bufferSize: 0);
}
