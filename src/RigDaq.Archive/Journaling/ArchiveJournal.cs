using System.Globalization;
using System.Text;
using System.Text.Json;
using RigDaq.Archive.Storage;

namespace RigDaq.Archive.Journaling;

/// <summary>
/// The append-only journal beside the captures: one JSON object a line, each with the checksum of its entry. An entry is
/// on the disk before the database hears of it; what the database missed is done again at the next start.
/// </summary>
internal sealed class ArchiveJournal : IDisposable
{
    // {"crc32c":"01234567","entry":...}\n
    private static readonly byte[] Before = Encoding.ASCII.GetBytes("{\"crc32c\":\"");
    private static readonly byte[] Between = Encoding.ASCII.GetBytes("\",\"entry\":");
    private static readonly byte[] After = Encoding.ASCII.GetBytes("}\n");
    private const int ChecksumDigits = 8;

    private readonly string _path;
    private readonly DiskSync _sync;
    private FileStream _file;
    private bool _torn;

    public ArchiveJournal(ArchiveFolder folder, DiskSync sync)
    {
        _path = folder.Journal;
        _sync = sync;
        bool existed = File.Exists(_path);
        _file = Open();
        if (!existed) sync.Folder(folder.Path);
        _torn = EndsTorn();
    }

    /// <summary>How long it is, in bytes.</summary>
    public long Length => new FileInfo(_path).Length;

    /// <summary>Writes an entry; it is on the disk when this returns.</summary>
    /// <returns>The length of the journal with it.</returns>
    /// <exception cref="IOException">It is not; a half-written line is left behind at most, and told by its checksum.</exception>
    public long Append(JournalEntry entry)
    {
        byte[] line = Line(entry);
        try
        {
            if (!_file.CanWrite) _file = Open();
            // A line that was cut off gets its end, so that it spoils only itself.
            if (_torn) _file.Write("\n"u8);
            _torn = true;
            _file.Write(line);
            _sync.File(_file);
            _torn = false;
            return Length;
        }
        catch
        {
            // After a failed flush the system may call the next one a success: only a new handle is to be trusted.
            _file.Dispose();
            throw;
        }
    }

    /// <summary>All entries from a place on, in order, and what could not be read.</summary>
    /// <param name="from">A length that <see cref="Append"/> returned, or 0.</param>
    /// <param name="damaged">Told the number of each damaged line, from 1 at <paramref name="from"/>.</param>
    public IEnumerable<JournalEntry> Read(long from, Action<int> damaged)
    {
        using var file = new FileStream(_path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        file.Position = Math.Min(from, file.Length);
        using var reader = new StreamReader(file, Encoding.UTF8);
        int number = 0;
        while (reader.ReadLine() is { } line)
        {
            number++;
            if (line.Length == 0) continue;
            if (Parse(Encoding.UTF8.GetBytes(line)) is { } entry) yield return entry;
            else damaged(number);
        }
    }

    public void Dispose() => _file.Dispose();

    private FileStream Open() =>
        new(_path, FileMode.Append, FileAccess.Write, FileShare.Read | FileShare.Delete, bufferSize: 0);

    private static byte[] Line(JournalEntry entry)
    {
        byte[] text = entry.ToUtf8();
        return [.. Before, .. Encoding.ASCII.GetBytes(Checksum.Text(Checksum.Of(text))), .. Between, .. text, .. After];
    }

    private static JournalEntry? Parse(ReadOnlySpan<byte> line)
    {
        int start = Before.Length + ChecksumDigits + Between.Length;
        if (line.Length <= start || !line.StartsWith(Before) || line[^1] != '}') return null;
        if (!line[(Before.Length + ChecksumDigits)..].StartsWith(Between)) return null;
        ReadOnlySpan<byte> text = line[start..^1];
        bool read = uint.TryParse(
            line.Slice(Before.Length, ChecksumDigits), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out uint checksum);
        if (!read || checksum != Checksum.Of(text)) return null;
        try
        {
            return JournalEntry.Read(text);
        }
        catch (JsonException)
        {
            return null;
        }
    }

    private bool EndsTorn()
    {
        if (_file.Length == 0) return false;
        using var file = new FileStream(_path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        file.Position = file.Length - 1;
        return file.ReadByte() != '\n';
    }
}
