using System.Text;
using System.Text.Unicode;

namespace RigDaq.Rig.PlainDevices;

/// <summary>What is wrong with a line before anyone has read it.</summary>
internal enum LineFault
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>It is longer than <see cref="LineCutter.LineBytesMax"/>.</summary>
    TooLong,

    /// <summary>It has bytes that are no text.</summary>
    NotText,

    /// <summary>It is what was left of a line that had begun before the port was opened.</summary>
    Beheaded,
}

/// <summary>A line as it was cut.</summary>
/// <param name="Text">Its text without the ends; for a fault a piece of it that can be shown.</param>
/// <param name="Fault">What is wrong with it.</param>
internal readonly record struct CutLine(string Text, LineFault Fault);

/// <summary>Cuts a stream of bytes into lines at CR, LF or both. Bounded: of a line that does not end nothing is kept but its length. The
/// first line after opening may lack its beginning, and half a number is a wrong number: it is handed on as beheaded.</summary>
internal sealed class LineCutter(bool startsWhole)
{
    /// <summary>The longest line in bytes.</summary>
    public const int LineBytesMax = 256;

    /// <summary>How much of a faulty line is shown.</summary>
    public const int ShownMax = 40;

    private readonly byte[] _line = new byte[LineBytesMax];
    private int _length;
    private bool _tooLong;
    private bool _whole = startsWhole;

    /// <summary>Bytes since the last line end.</summary>
    public long BytesWithoutEnd { get; private set; }

    /// <summary>Takes bytes up to the next line end; call again until it gives false. Empty lines are passed over.</summary>
    public bool TryRead(ref ReadOnlySpan<byte> input, out CutLine line)
    {
        while (!input.IsEmpty)
        {
            int end = input.IndexOfAny((byte)'\n', (byte)'\r');
            ReadOnlySpan<byte> piece = end < 0 ? input : input[..end];
            Gather(piece);
            input = end < 0 ? [] : input[(end + 1)..];
            if (end >= 0 && Close(out line)) return true;
        }

        line = default;
        return false;
    }

    /// <summary>Text that can be shown: control characters replaced, bounded.</summary>
    public static string Shown(ReadOnlySpan<byte> bytes)
    {
        string text = Encoding.UTF8.GetString(bytes.Length > ShownMax ? bytes[..ShownMax] : bytes);
        return string.Create(text.Length, text, static (to, from) =>
        {
            for (int i = 0; i < from.Length; i++) to[i] = char.IsControl(from[i]) || char.IsSurrogate(from[i]) ? '\uFFFD' : from[i];
        }) + (bytes.Length > ShownMax ? "…" : "");
    }

    private void Gather(ReadOnlySpan<byte> piece)
    {
        BytesWithoutEnd += piece.Length;
        int room = LineBytesMax - _length;
        if (piece.Length > room)
        {
            _tooLong = true;
            piece = piece[..room];
        }

        piece.CopyTo(_line.AsSpan(_length));
        _length += piece.Length;
    }

    private bool Close(out CutLine line)
    {
        // A byte 0 is what some devices send at their start.
        ReadOnlySpan<byte> bytes = _line.AsSpan(0, _length).Trim("\0 \t"u8);
        bool tooLong = _tooLong;
        bool whole = _whole;
        _length = 0;
        _tooLong = false;
        _whole = true;
        BytesWithoutEnd = 0;
        line = default;
        if (bytes.IsEmpty) return false;
        LineFault fault = tooLong ? LineFault.TooLong : !IsText(bytes) ? LineFault.NotText : whole ? LineFault.None : LineFault.Beheaded;
        line = new CutLine(fault is LineFault.None ? Encoding.UTF8.GetString(bytes) : Shown(bytes), fault);
        return true;
    }

    private static bool IsText(ReadOnlySpan<byte> bytes)
    {
        foreach (byte b in bytes)
        {
            if (b is < 0x20 and not (byte)'\t' or 0x7F) return false;
        }

        return Utf8.IsValid(bytes);
    }
}
