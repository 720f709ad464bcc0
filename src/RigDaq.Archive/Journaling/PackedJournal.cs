using System.Text;
using RigDaq.Archive.Storage;

namespace RigDaq.Archive.Journaling;

/// <summary>
/// The earlier part of the journal, packed, one block a line, so that the journal itself stays short. Like the journal it only grows, at
/// its end: a block that was cut off is none, and one that is damaged costs itself.
/// </summary>
/// <param name="folder">Where.</param>
/// <param name="sync">How it gets to the disk.</param>
internal sealed class PackedJournal(ArchiveFolder folder, DiskSync sync)
{
    /// <summary>How long it is, in bytes; 0 where there is none.</summary>
    public long Length => File.Exists(folder.PackedJournal) ? new FileInfo(folder.PackedJournal).Length : 0;

    /// <summary>Adds blocks; they are on the disk when this returns.</summary>
    /// <exception cref="IOException">They are not, or it is not known.</exception>
    public void Append(IEnumerable<PackedBlock> blocks)
    {
        bool isNew = !File.Exists(folder.PackedJournal);
        using FileStream file = OwnersFile.Open(folder.PackedJournal, FileMode.Append, share: FileShare.Read | FileShare.Delete,
            bufferSize: 0);
        LineEnds.Mend(file, sync, line => PackedBlock.Parse(Encoding.UTF8.GetBytes(line)) is not null);
        foreach (PackedBlock block in blocks) sync.Write(file, block.ToLine());
        sync.File(file);
        if (isNew) sync.Folder(folder.Path);
    }

    /// <summary>The number of the last entry in it; 0 where there is none.</summary>
    public long LastNumber() => Read(folder.PackedJournal, 0).Blocks.Select(block => block.Last).DefaultIfEmpty().Max();

    /// <summary>The whole blocks from a place on, in the order of the file.</summary>
    public IReadOnlyList<PackedBlock> Blocks(long from) => Read(folder.PackedJournal, from).Blocks;

    /// <summary>
    /// The lines in it, in the order of their entries, and what of it is damaged. What was packed once more, because the first time was cut
    /// off, comes twice.
    /// </summary>
    /// <param name="path">The file; it may be missing.</param>
    /// <param name="after">Blocks whose entries all have numbers up to this one are left out.</param>
    public static IEnumerable<JournalLine> Lines(string path, long after)
    {
        (List<PackedBlock> blocks, List<JournalLine> damaged) = Read(path, 0);
        // Sorting leaves blocks of the same beginning in their order.
        return damaged.Concat(blocks.Where(block => block.Last > after).OrderBy(block => block.First)
            .SelectMany(block => JournalLine.Read(new StringReader(Encoding.UTF8.GetString(block.Unpack())))
                .Select(line => line with { IsPacked = true, Number = block.Line })));
    }

    // From one beginning to the next: a line's end that was damaged costs nothing.
    private static (List<PackedBlock> Blocks, List<JournalLine> Damaged) Read(string path, long from)
    {
        var blocks = new List<PackedBlock>();
        var damaged = new List<JournalLine>();
        ReadOnlySpan<byte> file = Content(path, from);
        int number = 1;
        for (int at = 0, end; at < file.Length; at = end)
        {
            int next = file[(at + 1)..].IndexOf(CheckedLine.BeginBytes);
            end = next < 0 ? file.Length : at + 1 + next;
            ReadOnlySpan<byte> part = file[at..end], rest = part;
            int whole = part.LastIndexOf("}}"u8) + 2;
            if (whole >= 2 && PackedBlock.Parse(part[..whole]) is { } block)
            {
                blocks.Add(block with { Line = number });
                rest = part[whole..].TrimStart((byte)'\n');
            }

            if (rest.Length > 0 && !IsCutOff(rest, end == file.Length))
                damaged.Add(new JournalLine(number, LineState.Damaged, null, "") { IsPacked = true });
            number += part.Count((byte)'\n');
        }

        return (blocks, damaged);
    }

    private static bool IsCutOff(ReadOnlySpan<byte> part, bool isLast)
    {
        bool ended = part.EndsWith("…\n"u8);
        ReadOnlySpan<byte> beginning = ended ? part[..^"…\n"u8.Length] : part;
        return (ended || (isLast && part[^1] != '\n')) && !beginning.Contains((byte)'}')
            && (beginning.StartsWith(CheckedLine.BeginBytes) || CheckedLine.BeginBytes.StartsWith(beginning));
    }

    private static byte[] Content(string path, long from)
    {
        if (!File.Exists(path)) return [];
        using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        file.Position = Math.Min(from, file.Length);
        byte[] content = new byte[file.Length - file.Position];
        file.ReadExactly(content);
        return content;
    }
}
