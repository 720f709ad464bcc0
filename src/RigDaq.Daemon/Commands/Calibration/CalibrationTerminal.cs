using System.Threading.Channels;
using RigDaq.App.Calibrations;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Quantities;
using RigDaq.Daemon.Text;
using RigDaq.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>The person's side of a guided calibration in a terminal: prompts as lines, a tone where eyes are on the weights, words typed
/// in.</summary>
/// <param name="runner">Joins the guide with the rig.</param>
/// <param name="degree">The degree of the curve; null for the one that the readings speak for.</param>
/// <param name="units">What the person reads.</param>
/// <param name="input">What the person types.</param>
/// <param name="say">Shows a line.</param>
/// <param name="tone">Sounds a tone.</param>
internal sealed class CalibrationTerminal(CalibrationRunner runner, int? degree, Units units, TextReader input, Action<Sentence> say,
    Action tone)
{
    private static readonly Dictionary<string, PersonAction> Words = new(StringComparer.OrdinalIgnoreCase)
    {
        ["warm"] = PersonAction.SkipWarmUp,
        ["anyway"] = PersonAction.TakeAnyway,
        ["back"] = PersonAction.GoBack,
        ["again"] = PersonAction.RestartSeries,
        ["dwell"] = PersonAction.SkipDwell,
        ["sign"] = PersonAction.TurnSign,
        ["stop"] = PersonAction.Pause,
        ["accept"] = PersonAction.Accept,
        ["give-up"] = PersonAction.Abandon,
    };

    private readonly TaskCompletionSource _over = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private GuideState? _shown;

    /// <summary>A reading was taken or dropped, or the phase changed: worth keeping.</summary>
    public event Action<GuideState>? Progressed;

    /// <summary>Leads the person through until it is accepted, given up or stopped.</summary>
    /// <param name="resumed">Whether the session was stopped before and goes on now.</param>
    /// <param name="cancellation">Gives up; what was read is kept.</param>
    public async Task RunAsync(bool resumed, CancellationToken cancellation)
    {
        _shown = runner.State;
        if (!resumed) Progressed?.Invoke(_shown);
        runner.Prompted += Show;
        runner.Changed += Look;
        runner.BrokeOff += BreakOff;
        runner.Start();
        try
        {
            if (resumed)
            {
                say(TerminalText.GuideGoesOn(runner.State.FitReadings().Count));
                runner.Do(PersonAction.Resume);
            }

            // Typed lines come by a thread of their own: a console read cannot be given up.
            Channel<string?> typed = Channel.CreateBounded<string?>(16);
            var reader = new Thread(() => ReadLines(typed.Writer)) { IsBackground = true, Name = "typed words" };
            reader.Start();
            using var over = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
            Task obeying = ObeyAsync(typed.Reader, over.Token);
            try
            {
                await _over.Task.WaitAsync(cancellation).ConfigureAwait(false);
            }
            finally
            {
                await over.CancelAsync().ConfigureAwait(false);
                await obeying.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            }
        }
        finally
        {
            runner.Prompted -= Show;
            runner.Changed -= Look;
            runner.BrokeOff -= BreakOff;
        }
    }

    private void BreakOff(Exception fault) => _over.TrySetException(fault);

    private void ReadLines(ChannelWriter<string?> typed)
    {
        try
        {
            while (input.ReadLine() is { } line) typed.WriteAsync(line).AsTask().Wait();
        }
        catch (Exception fault) when (fault is IOException or ObjectDisposedException)
        {
            // The terminal is gone: the same as the end of input.
        }

        typed.TryComplete();
    }

    private async Task ObeyAsync(ChannelReader<string?> typed, CancellationToken cancellation)
    {
        await foreach (string? line in typed.ReadAllAsync(cancellation).ConfigureAwait(false))
        {
            string word = line!.Trim();
            if (Words.TryGetValue(word, out PersonAction action)) runner.Do(action, degree ?? CalibrationGuide.AdvisedDegree(runner.State));
            else if (word.Length > 0) say(TerminalText.GuideWords);
        }

        // Nobody can answer any more: what was read is kept for another time.
        if (runner.State.Phase is not (GuidePhase.Accepted or GuidePhase.Abandoned)) runner.Do(PersonAction.Pause);
    }

    private void Show(GuidePrompt prompt)
    {
        say(prompt.Text);
        if (prompt.Aloud) tone();
    }

    private void Look(GuideState state)
    {
        GuidePhase before = _shown!.Phase;
        // Samples that come before a resumed session goes on still find it paused.
        if (!state.HasProgressedSince(_shown)) return;
        bool review = state.Phase == GuidePhase.Review && before != GuidePhase.Review;
        bool paused = state.Phase == GuidePhase.Paused && before != GuidePhase.Paused;
        _shown = state;
        Progressed?.Invoke(state);
        if (review) ShowFigures(state);
        if (paused || state.Phase is GuidePhase.Accepted or GuidePhase.Abandoned) _over.TrySetResult();
    }

    private void ShowFigures(GuideState state)
    {
        try
        {
            using var text = new StringWriter(System.Globalization.CultureInfo.InvariantCulture);
            CalibrationFitText.Write(text, CalibrationGuide.Fit(state, degree ?? CalibrationGuide.AdvisedDegree(state)), units);
            say(Sentence.Verbatim(text.ToString().TrimEnd()));
            foreach (Sentence note in state.Notes) say(TerminalText.FitNote(note));
        }
        catch (CalibrationRefusedException refusal)
        {
            say(TerminalText.GuideRefused(refusal.Sentence));
        }
    }
}
