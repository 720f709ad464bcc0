using System.Text;
using System.Threading.Channels;
using RigDaq.Rig.Links;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.PlainDevices;

/// <summary>
/// Asks an instrument at its interval, one question at a time. An answer that was given up is waited for once more, and left out
/// when it comes: otherwise each later answer would be taken for that of the question after it.
/// </summary>
internal sealed class InstrumentAsker(IRigLink line, QueryFormat format, TimeProvider time, Func<Happening, ValueTask> post)
{
    /// <summary>After each set-up line the instrument is given so long.</summary>
    public static readonly TimeSpan SetUpPause = TimeSpan.FromMilliseconds(50);

    /// <summary>How often it is asked who it is.</summary>
    public const int IdentityTriesMax = 3;

    private const int AnswersMax = 16;

    private readonly Channel<(CutLine Line, long Arrived)> _answers = Channel.CreateBounded<(CutLine, long)>(
        new BoundedChannelOptions(AnswersMax) { FullMode = BoundedChannelFullMode.DropOldest });

    /// <summary>A line has come.</summary>
    public void Answered(CutLine answer, long arrived) => _answers.Writer.TryWrite((answer, arrived));

    /// <summary>Asks until it is cancelled or the line ends.</summary>
    public async Task RunAsync(CancellationToken cancellation)
    {
        try
        {
            foreach (string text in format.SetUp)
            {
                await WriteAsync(text).ConfigureAwait(false);
                await Task.Delay(SetUpPause, time, cancellation).ConfigureAwait(false);
            }

            if (!format.Identify || await IdentifyAsync(cancellation).ConfigureAwait(false)) await AskOnAsync(cancellation).ConfigureAwait(false);
        }
        catch (OperationCanceledException)
        {
            // The link has ended.
        }
        catch (IOException)
        {
            // So it has: its own reason tells why.
        }
    }

    private long Now => (long)time.GetElapsedTime(0, time.GetTimestamp()).TotalMicroseconds;

    private async Task<bool> IdentifyAsync(CancellationToken cancellation)
    {
        for (int i = 0; i < IdentityTriesMax; i++)
        {
            await LeaveOutLateAsync().ConfigureAwait(false);
            await WriteAsync(QueryFormat.IdentityQuery).ConfigureAwait(false);
            if (await NextAsync(cancellation).ConfigureAwait(false) is not { Line.Fault: LineFault.None } answer) continue;
            await post(new Happening(HappeningKind.Identity, answer.Arrived) { Line = answer.Line }).ConfigureAwait(false);
            return true;
        }

        line.Close(new LinkEnd(
            LinkEndKind.NotUnderstood,
            RigText.InstrumentSilent(line.Name, QueryFormat.IdentityQuery)));
        return false;
    }

    private async Task AskOnAsync(CancellationToken cancellation)
    {
        long due = Now;
        while (true)
        {
            await LeaveOutLateAsync().ConfigureAwait(false);
            long asked = Now;
            await WriteAsync(format.Query).ConfigureAwait(false);
            if (await NextAsync(cancellation).ConfigureAwait(false) is { } answer)
            {
                await post(new Happening(HappeningKind.Answer, answer.Arrived) { Line = answer.Line, Asked = asked }).ConfigureAwait(false);
            }
            else
            {
                await post(new Happening(HappeningKind.Unanswered, Now)).ConfigureAwait(false);
                if (await NextAsync(cancellation).ConfigureAwait(false) is not null)
                    await post(new Happening(HappeningKind.Unasked, Now)).ConfigureAwait(false);
            }

            due += (long)format.Interval.TotalMicroseconds;
            long now = Now;
            // What was missed is not asked for in a burst.
            if (due < now) due = now;
            else await Task.Delay(TimeSpan.FromMicroseconds(due - now), time, cancellation).ConfigureAwait(false);
        }
    }

    private async Task LeaveOutLateAsync()
    {
        while (_answers.Reader.TryRead(out _)) await post(new Happening(HappeningKind.Unasked, Now)).ConfigureAwait(false);
    }

    private async Task<(CutLine Line, long Arrived)?> NextAsync(CancellationToken cancellation)
    {
        if (_answers.Reader.TryRead(out (CutLine, long) ready)) return ready;
        using var late = new CancellationTokenSource(format.AnswerMax, time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(cancellation, late.Token);
        try
        {
            return await _answers.Reader.ReadAsync(either.Token).ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (!cancellation.IsCancellationRequested)
        {
            return null;
        }
    }

    private ValueTask WriteAsync(string text) => line.WriteAsync(Encoding.ASCII.GetBytes(text + format.LineEnding));
}
