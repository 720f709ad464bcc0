using System.IO.Pipelines;
using RigDaq.Rig.Links;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.PlainDevices;

/// <summary>The first lines that a device printed, for a person to look at and for a proposal.</summary>
/// <param name="Lines">The lines that were text, in their order; the first may lack its beginning.</param>
/// <param name="Bytes">Bytes in all.</param>
/// <param name="NotText">Lines with bytes that are no text, and such without end.</param>
/// <param name="Elapsed">From the first to the last of the lines.</param>
public sealed record FirstLines(IReadOnlyList<string> Lines, long Bytes, int NotText, TimeSpan Elapsed)
{
    /// <summary>So many lines are enough.</summary>
    public const int LinesMax = 80;

    /// <summary>Listens for a while.</summary>
    /// <param name="link">An open line; it is closed at the end.</param>
    /// <param name="longest">How long at the most.</param>
    /// <param name="time">For the wait.</param>
    /// <param name="cancellation">Gives up.</param>
    public static async Task<FirstLines> ReadAsync(IRigLink link, TimeSpan longest, TimeProvider time, CancellationToken cancellation)
    {
        var cutter = new LineCutter(startsWhole: true);
        var lines = new List<string>();
        long bytes = 0, first = 0, last = 0;
        int notText = 0;
        using var enough = new CancellationTokenSource(longest, time);
        using CancellationTokenRegistration bounded =
            enough.Token.Register(() => link.Close(new LinkEnd(LinkEndKind.ClosedHere, RigText.WasListenedTo(link.Name))));
        using CancellationTokenRegistration given =
            cancellation.Register(() => link.Close(new LinkEnd(LinkEndKind.ClosedHere, RigText.WasClosed(link.Name))));
        while (lines.Count < LinesMax)
        {
            ReadResult read = await link.Input.ReadAsync(CancellationToken.None).ConfigureAwait(false);
            last = time.GetTimestamp();
            if (first == 0) first = last;
            bytes += read.Buffer.Length;
            foreach (ReadOnlyMemory<byte> piece in read.Buffer) notText += Take(cutter, piece.Span, lines);
            link.Input.AdvanceTo(read.Buffer.End);
            if (read.IsCompleted) break;
        }

        cancellation.ThrowIfCancellationRequested();
        if (cutter.BytesWithoutEnd > LineCutter.LineBytesMax) notText++;
        return new FirstLines(lines, bytes, notText, time.GetElapsedTime(first, last));
    }

    /// <summary>What they suggest.</summary>
    public LineProposal Propose()
    {
        if (Bytes == 0) return new LineProposal(null, [RigText.NothingArrived], []);
        return NotText > Lines.Count ? new LineProposal(null, [RigText.NoLinesOfText(Bytes)], []) : LineProposer.Propose(Lines, Elapsed);
    }

    /// <summary>The share of the lines that a format reads, comments left out; 0 where there are none.</summary>
    public double ShareRead(LineFormat format)
    {
        List<LineReading> read =
            [.. Lines.Skip(1).Select(line => LineParser.Read(format, line)).Where(reading => reading.Kind != LineKind.Comment)];
        return read.Count == 0 ? 0 : read.Count(reading => reading.Kind == LineKind.Reading) / (double)read.Count;
    }

    private static int Take(LineCutter cutter, ReadOnlySpan<byte> bytes, List<string> lines)
    {
        int notText = 0;
        while (cutter.TryRead(ref bytes, out CutLine line))
        {
            if (line.Fault == LineFault.None) lines.Add(line.Text);
            else notText++;
        }

        return notText;
    }
}
