using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;

namespace RigDaq.Archive.Journaling;

/// <summary>
/// Moves the lines of a long journal into its packed part: packed, flushed, read back, and only then is the journal emptied. Cut off before
/// that the lines are in both, which whoever reads takes for once; the next time they are packed anew, since nobody knows what of the first
/// attempt is on the disk.
/// </summary>
/// <param name="folder">Where.</param>
/// <param name="journal">The journal.</param>
/// <param name="packed">Its packed part.</param>
internal sealed class JournalPacking(ArchiveFolder folder, ArchiveJournal journal, PackedJournal packed)
{
    /// <summary>A journal of this length is packed: some 400 runs.</summary>
    public const long AtBytes = 4L * 1024 * 1024;

    /// <summary>So much of it goes into one block, which is what damage costs; more would hardly be smaller.</summary>
    public const int BlockBytes = 1024 * 1024;

    /// <summary>Packs all of it; the journal is empty on the disk when this returns.</summary>
    /// <returns>Whether it was. One whose numbers do not rise, or that does not end in an entry that was kept, stays as it is.</returns>
    /// <exception cref="IOException">It could not be, or it is not known; nothing is lost.</exception>
    public bool Run()
    {
        if (!IsInOrder()) return false;
        long before = packed.Length;
        packed.Append(Blocks());
        if (!Holds(packed.Blocks(before))) throw new IOException(ArchiveText.JournalNotPacked(folder.PackedJournal));
        journal.Empty();
        return true;
    }

    private bool IsInOrder()
    {
        long last = 0;
        foreach (JournalEntry entry in journal.Read(0, _ => { }))
        {
            if (entry.Number <= last) return false;
            last = entry.Number;
        }

        return last > 0 && journal.EndingAt(journal.Length)?.Number == last;
    }

    // Each ends where whoever reads has nothing that waits for the rest of it.
    private IEnumerable<PackedBlock> Blocks()
    {
        using var lines = new MemoryStream();
        long first = 0, last = 0;
        foreach (byte[] line in Lines())
        {
            lines.Write(line);
            if (JournalLine.Parse(line.AsSpan().TrimEnd((byte)'\n')) is not { } entry) continue;
            (first, last) = (first == 0 ? entry.Number : first, entry.Number);
            if (lines.Length < BlockBytes || entry.Number < entry.Batch) continue;
            yield return PackedBlock.Of(first, last, lines.ToArray());
            lines.SetLength(0);
            first = 0;
        }

        if (lines.Length > 0) yield return PackedBlock.Of(first, last, lines.ToArray());
    }

    private IEnumerable<byte[]> Lines()
    {
        using FileStream file = Open();
        using var line = new MemoryStream();
        byte[] some = new byte[64 * 1024];
        for (int length; (length = file.Read(some)) > 0;)
        {
            for (int at = 0, end; at < length; at = end)
            {
                int lineEnd = Array.IndexOf(some, (byte)'\n', at, length - at);
                end = lineEnd < 0 ? length : lineEnd + 1;
                line.Write(some, at, end - at);
                if (lineEnd < 0) continue;
                yield return line.ToArray();
                line.SetLength(0);
            }
        }
    }

    private bool Holds(IEnumerable<PackedBlock> blocks)
    {
        using FileStream file = Open();
        foreach (PackedBlock block in blocks)
        {
            byte[] lines = block.Unpack(), kept = new byte[lines.Length];
            if (file.ReadAtLeast(kept, kept.Length, throwOnEndOfStream: false) < kept.Length
                || !kept.AsSpan().SequenceEqual(lines)) return false;
        }

        return file.Position == file.Length;
    }

    private FileStream Open() => new(folder.Journal, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
}
