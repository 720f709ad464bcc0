using System.Text;
using RigDaq.Archive.Storage;

namespace RigDaq.Archive.Journaling;

/// <summary>Files of lines, looked at from their ends.</summary>
internal static class LineEnds
{
    // What was cut off gets an end that no line has, so that it spoils only itself and is known for what it is.
    private static readonly byte[] CutOffEnd = "…\n"u8.ToArray();
    private static readonly byte[] LineEnd = "\n"u8.ToArray();

    /// <summary>
    /// Ends what a write that failed left behind the last line's end. Where only the line's end is missing whoever reads takes the line for
    /// kept, and so it must stay one.
    /// </summary>
    /// <param name="file">The file, open to be written at its end.</param>
    /// <param name="sync">How it is written.</param>
    /// <param name="isWhole">Whether a line is as it was to be written.</param>
    public static void Mend(FileStream file, DiskSync sync, Func<string, bool> isWhole)
    {
        if (Before(file.Name, file.Length) is { Length: > 0 } line) sync.Write(file, isWhole(line) ? LineEnd : CutOffEnd);
    }

    /// <summary>The line that ends at a place of a file; null where none ends there.</summary>
    public static string? EndingAt(string path, long place)
    {
        using FileStream file = Open(path);
        if (place < 1 || place > file.Length) return null;
        file.Position = place - 1;
        return file.ReadByte() == '\n' ? Before(path, place - 1) : null;
    }

    // What stands between the last line's end before a place and that place.
    private static string Before(string path, long place)
    {
        using FileStream file = Open(path);
        var end = new List<byte>();
        byte[] block = new byte[4_096];
        for (long at = place; at > 0;)
        {
            int length = (int)Math.Min(block.Length, at);
            at -= length;
            file.Position = at;
            file.ReadExactly(block, 0, length);
            int last = Array.LastIndexOf(block, (byte)'\n', length - 1, length);
            end.InsertRange(0, block.AsSpan(last + 1, length - last - 1));
            if (last >= 0) break;
        }

        return Encoding.UTF8.GetString([.. end]);
    }

    private static FileStream Open(string path) => new(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
}
