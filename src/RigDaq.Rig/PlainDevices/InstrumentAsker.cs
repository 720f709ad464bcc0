using System.Text;
using System.Threading.Channels;
using RigDaq.Rig.Links;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.PlainDevices;

/// <summary>Asks an instrument at its interval, one question at a time. An answer that was given up is waited for once more, and left out
/// when it comes: otherwise each later answer would be taken for that of the question after it.</summary>
/// <param name="line">The open line to it.</param>
/// <param name="format">How it is asked.</param>
/// <param name="time">For waits and stamps.</param>
/// <param name="post">Has the session told on the thread that it is used by.</param>
internal sealed class InstrumentAsker(IRigLink line, QueryFormat format, TimeProvider time, Action<Action> post)
{
    /// <summary>After each set-up line the instrument is given so long.</summary>
    public static readonly TimeSpan SetUpPause = TimeSpan.FromMilliseconds(50);

    /// <summary>How often it is asked who it is.</summary>
    public const int IdentityTriesMax = 3;

    private const int AnswersMax = 16;

    private readonly Channel<(CutLine Line, long Arrived)> _answers = Channel.CreateBounded<(CutLine, long)>(
        new BoundedChannelOptions(AnswersMax) { FullMode = BoundedChannelFullMode.DropOldest });

    private PlainDeviceSession? _session;

    /// <summary>Begins to ask, until the line ends. The session is told of the answers.</summary>
    public void Start(PlainDeviceSession session)
    {
        _session = session;
        _ = Task.Run(RunAsync);
    }

    /// <summary>A line has come.</summary>
    public void Answered(CutLine answer, long arrivedAt) => _answers.Writer.TryWrite((answer, arrivedAt));

    private async Task RunAsync()
    {
        using var ended = new CancellationTokenSource();
        Task asking = AskAsync(ended.Token);
        await Task.WhenAny(asking, line.Closed).ConfigureAwait(false);
        await ended.CancelAsync().ConfigureAwait(false);
        await asking.ConfigureAwait(false);
    }

    private async Task AskAsync(CancellationToken cancellation)
    {
        try
        {
            foreach (string text in format.SetUp)
            {
                await WriteAsync(text).ConfigureAwait(false);
                await Task.Delay(SetUpPause, time, cancellation).ConfigureAwait(false);
            }

            if (!format.Identify || await IdentifyAsync(cancellation).ConfigureAwait(false))
                await AskOnAsync(cancellation).ConfigureAwait(false);
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
            LeaveOutLate();
            await WriteAsync(QueryFormat.IdentityQuery).ConfigureAwait(false);
            if (await NextAsync(cancellation).ConfigureAwait(false) is not { Line.Fault: LineFault.None } answer
                || string.IsNullOrWhiteSpace(answer.Line.Text)) continue;
            Tell(session => session.TakeIdentity(answer.Line.Text));
            return true;
        }

        line.Close(new LinkEnd(LinkEndKind.NotUnderstood, RigText.InstrumentSilent(line.Name, QueryFormat.IdentityQuery)));
        return false;
    }

    private async Task AskOnAsync(CancellationToken cancellation)
    {
        long due = Now;
        while (true)
        {
            LeaveOutLate();
            long askedAt = time.GetTimestamp();
            await WriteAsync(format.Query).ConfigureAwait(false);
            if (await NextAsync(cancellation).ConfigureAwait(false) is { } answer)
            {
                Tell(session => session.TakeAnswer(answer.Line, askedAt, answer.Arrived));
            }
            else
            {
                Tell(session => session.NoteUnanswered());
                if (await NextAsync(cancellation).ConfigureAwait(false) is not null) Tell(session => session.NoteUnasked());
            }

            due += (long)format.Interval.TotalMicroseconds;
            long now = Now;
            // What was missed is not asked for in a burst.
            if (due < now) due = now;
            else await Task.Delay(TimeSpan.FromMicroseconds(due - now), time, cancellation).ConfigureAwait(false);
        }
    }

    private void LeaveOutLate()
    {
        while (_answers.Reader.TryRead(out _)) Tell(session => session.NoteUnasked());
    }

    private void Tell(Action<PlainDeviceSession> tell) => post(() =>
    {
        if (_session is { } session) tell(session);
    });

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
