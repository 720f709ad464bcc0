using RigDaq.App.Overview;
using RigDaq.App.Text;
using RigDaq.Core;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;

namespace RigDaq.App.Calibrations;

/// <summary>
/// The one guided calibration that can be under way beside a daemon: begun, led through, looked at, and only then put in
/// force by a person. Safe for several threads.
/// </summary>
internal sealed class CalibrationService(ILiveRig rig, IDashboardData data, TimeProvider time) : IAsyncDisposable
{
    /// <summary>Words that are kept for a page that comes late.</summary>
    private const int PromptsMax = 40;

    private readonly Lock _lock = new();
    private readonly Queue<NumberedPrompt> _prompts = new();
    private readonly SemaphoreSlim _one = new(1, 1);
    private volatile Led? _led;
    private (GuideState State, int Degree, CalibrationRecord Record)? _accepted;
    private string? _lookedFor;
    private GuideState? _keptLast;
    private long _promptNumber;
    private (GuideState State, int Degree, CalibrationFit? Fit, Sentence Problem)? _fitted;

    /// <summary>Begins one; an earlier one that was not accepted is given up.</summary>
    internal async Task<Result> BeginAsync(CalibrationRequest asked)
    {
        if (!asked.CautionsRead) return Result.Refused("answers.readWeightCautions");
        if (rig.Snapshot.Link != LinkStage.Up) return Result.Refused("answers.notConnected", ("why", rig.Snapshot.LinkMessage));
        if (rig.Snapshot.Sequence is { Stage: not SequenceStage.Finished }) return Result.Refused("answers.sequenceUnderWay");
        if (rig.Snapshot.Device is not { } device) return Result.Refused("answers.deviceNotKnown");
        GuideState state;
        IReadOnlyList<GuidePrompt> prompts;
        try
        {
            (state, prompts) = CalibrationGuide.Begin(asked.Plan(), asked.Circumstances(rig.Snapshot.SampleRateHertz), asked.Inputs);
        }
        catch (RefusalException e)
        {
            return Result.Because(e.Reasons);
        }

        await _one.WaitAsync().ConfigureAwait(false);
        try
        {
            if (_led is { } before) await before.Runner.DisposeAsync().ConfigureAwait(false);
            _led = null;
            _accepted = null;
            lock (_lock)
            {
                _prompts.Clear();
                _fitted = null;
                _keptLast = null;
            }

            foreach (GuidePrompt prompt in prompts) Keep(prompt);
            Lead(device.Id, state);
        }
        finally
        {
            _one.Release();
        }

        return Result.Ok("answers.calibrationBegun");
    }

    /// <summary>A person does something other than accepting.</summary>
    internal Result Do(string name)
    {
        if (Runner() is not { } runner) return Result.Refused("answers.noCalibrationUnderWay");
        if (!Enum.TryParse(name, ignoreCase: true, out PersonAction action) || !Enum.IsDefined(action) || action == PersonAction.Accept)
        {
            return Result.Refused("answers.notAnAction", ("name", name));
        }

        runner.Do(action);
        return Result.Ok();
    }

    /// <summary>Puts it in force: kept first, then given to the rig. Asked twice, it keeps one record.</summary>
    internal async Task<Result> AcceptAsync(int degree)
    {
        await _one.WaitAsync().ConfigureAwait(false);
        try
        {
            return await AcceptAloneAsync(degree).ConfigureAwait(false);
        }
        finally
        {
            _one.Release();
        }
    }

    private async Task<Result> AcceptAloneAsync(int degree)
    {
        if (_led is not { Runner: { State: { Phase: GuidePhase.Review } state } runner } led) return
            Result.Refused("answers.nothingToAccept");
        if (rig.Snapshot.Device is not { } device) return Result.Refused("answers.deviceNotKnown");
        if (device.Id != led.DeviceId) return Result.Refused("answers.otherDevice", ("of", led.DeviceId), ("now", device.Id));
        // Kept by an earlier try that the rig refused, of the same readings: it is that record which comes into force now.
        if (_accepted is not { } kept || kept.Degree != degree || !ReferenceEquals(kept.State.Taken, state.Taken))
        {
            try
            {
                CalibrationFit fit = CalibrationGuide.Fit(state, degree);
                DateTimeOffset now = time.GetUtcNow();
                CalibrationRecord record = CalibrationBuilder.Accept(fit, Guid.CreateVersion7(now).ToString(), device.Id, now,
                    WithNotes(state));
                data.KeepCalibration(record);
                _accepted = kept = (state, degree, record);
            }
            catch (Exception e) when (e is RefusalException or IOException or UnauthorizedAccessException)
            {
                return e is RefusalException refusal ? Result.Because(refusal.Reasons) : Result.Because(Sentence.Verbatim(e.Message));
            }
        }

        CommandResult set = await rig.SetCalibration(kept.Record, kept.Record.NoiseCounts).ConfigureAwait(false);
        if (!set.Done) return Result.Because([PageText.Sentence("answers.keptNotInForce"), .. set.Reasons]);
        runner.Do(PersonAction.Accept, degree);
        return Result.Ok("answers.inForce");
    }

    /// <summary>Where it stands, in review with a fit of that degree; null where none was begun.</summary>
    internal CalibrationStanding? Look(int degree)
    {
        if (Runner() is not { } runner) return null;
        GuideState state = runner.State;
        (CalibrationFit? fit, Sentence problem) = state.Phase is GuidePhase.Review or GuidePhase.Accepted ? Fitted(state, degree)
            : (null, Sentence.None);
        lock (_lock) return new CalibrationStanding(state, [.. _prompts], fit, problem);
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (_led is { } led) await led.Runner.DisposeAsync().ConfigureAwait(false);
        _one.Dispose();
    }

    /// <summary>The one that is under way; after a start of the daemon, the one of this device that was stopped by its end.</summary>
    private CalibrationRunner? Runner()
    {
        if (_led is not null || rig.Snapshot.Device is not { } device || _lookedFor == device.Id || !_one.Wait(0)) return _led?.Runner;
        try
        {
            if (_led is not null || _lookedFor == device.Id) return _led?.Runner;
            _lookedFor = device.Id;
            if (data.FindGuide(device.Id)?.TakenUp() is not { } kept) return null;
            Keep(new GuidePrompt(PromptKind.Information, PageText.Sentence("answers.calibrationStopped", ("n", kept.FitReadings().Count)),
                false));
            Lead(device.Id, kept);
            return _led?.Runner;
        }
        finally
        {
            _one.Release();
        }
    }

    private void Lead(string deviceId, GuideState state)
    {
        var runner = new CalibrationRunner(rig, state);
        runner.Prompted += Keep;
        runner.Changed += now => Keep(deviceId, now);
        runner.BrokeOff += fault
            => Keep(new GuidePrompt(PromptKind.Information, PageText.Sentence("answers.calibrationBrokeOff", ("why", fault.Message)),
                true));
        _led = new Led(runner, deviceId);
        runner.Start();
    }

    private void Keep(string deviceId, GuideState state)
    {
        lock (_lock)
        {
            if (_keptLast is { } before && !state.HasProgressedSince(before)) return;
            _keptLast = state;
        }

        try
        {
            data.KeepGuide(deviceId, state);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            Keep(new GuidePrompt(PromptKind.Information, PageText.Sentence("answers.stepNotKept", ("why", e.Message)), true));
        }
    }

    // What was done otherwise than planned belongs into the record.
    private static CalibrationCircumstances WithNotes(GuideState state) =>
        state.Circumstances with
        {
            Remarks = string
            .Join(" ", ((string[])[state.Circumstances.Remarks, .. state.Notes.AsKept()]).Where(words => !string.IsNullOrEmpty(words)))
        };

    private (CalibrationFit? Fit, Sentence Problem) Fitted(GuideState state, int degree)
    {
        lock (_lock)
        {
            // The readings decide, not the samples that go on coming.
            if (_fitted is { } kept && ReferenceEquals(kept.State.Taken, state.Taken) && kept.Degree == degree) return
                (kept.Fit, kept.Problem);
            CalibrationFit? fit = null;
            Sentence problem = Sentence.None;
            try
            {
                fit = CalibrationGuide.Fit(state, degree);
            }
            catch (RefusalException e)
            {
                problem = e.Sentence;
            }

            _fitted = (state, degree, fit, problem);
            return (fit, problem);
        }
    }

    private void Keep(GuidePrompt prompt)
    {
        lock (_lock)
        {
            _prompts.Enqueue(new NumberedPrompt(++_promptNumber, prompt));
            if (_prompts.Count > PromptsMax) _prompts.Dequeue();
        }
    }

    private sealed record Led(CalibrationRunner Runner, string DeviceId);
}

/// <summary>Where a guided calibration stands.</summary>
/// <param name="State">The guide's state.</param>
/// <param name="Prompts">The last of what was said to the person.</param>
/// <param name="Fit">In review: the fit.</param>
/// <param name="Problem">Why there is no fit, in words; empty where there is one or it is not yet time.</param>
internal sealed record CalibrationStanding(GuideState State, IReadOnlyList<NumberedPrompt> Prompts, CalibrationFit? Fit, Sentence Problem);

/// <summary>A word to the person.</summary>
/// <param name="Number">Counts them, so that who looks now and then knows which are new.</param>
/// <param name="Prompt">The word.</param>
internal sealed record NumberedPrompt(long Number, GuidePrompt Prompt);
