using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Signal;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Calibration.Guided;

/// <summary>What samples do to a guided calibration.</summary>
internal static class SignalWatch
{
    // After this long without the reading that is waited for, the person is told again what is waited for.
    private const double RemindSeconds = 60;

    public static GuideState Take(GuideState state, IReadOnlyList<RawSample> block, uint? bootNumber, List<GuidePrompt> prompts)
    {
        if (block.Count == 0 || state.Phase is GuidePhase.Paused or GuidePhase.Review or GuidePhase.Accepted or GuidePhase.Abandoned)
            return state;
        bool restarted = (bootNumber is not null && state.BootNumber is not null && bootNumber != state.BootNumber)
            || block[0].DeviceMicroseconds < state.LastMicroseconds;
        state = (restarted ? Restart(state, prompts) : AfterPause(state, block[0], prompts)) with
        { BootNumber = bootNumber ?? state.BootNumber };
        var recent = new List<int>(state.Window.Recent);
        double keep = Keep(state);
        foreach (var sample in block)
        {
            recent.Add(sample.Counts);
            var window = state.Window.Add(sample, keep, out bool completed);
            state = state with
            {
                Window = window,
                LastMicroseconds = sample.DeviceMicroseconds,
                SinceMicroseconds = state.SinceMicroseconds ?? sample.DeviceMicroseconds
            };
            if (!completed) continue;
            var phase = (state.Phase, state.TaskIndex);
            state = Judge(state with { Window = window.Remember(recent) }, prompts);
            if ((state.Phase, state.TaskIndex) != phase)
            {
                recent.Clear();
                keep = Keep(state);
            }
        }

        return state with { Window = state.Window.Remember(recent) };
    }

    // Samples after a long pause belong to another series: its zero may have gone elsewhere.
    private static GuideState AfterPause(GuideState state, RawSample first, List<GuidePrompt> prompts)
    {
        if (!state.JustResumed) return state;
        if (first.DeviceMicroseconds - state.LastMicroseconds > CalibrationGuide.ResumeSecondsMax * 1e6)
        {
            prompts.Add(new GuidePrompt(PromptKind.Information, CoreText.GuideLongPause, true));
            state = GuideSteps.RestartSeries(state);
            GuideSteps.Ask(state, prompts);
        }

        return state with { JustResumed = false };
    }

    // A device that started again has another clock, and its cell and amplifier may have cooled.
    private static GuideState Restart(GuideState state, List<GuidePrompt> prompts)
    {
        prompts.Add(new GuidePrompt(PromptKind.Information, CoreText.GuideDeviceRestarted, true));
        return GuideSteps.RestartSeries(state) with
        {
            Phase = GuidePhase.WarmingUp,
            LastMicroseconds = null,
            SinceMicroseconds = null,
            JustResumed = false
        };
    }

    private static double Keep(GuideState state) =>
        state.Phase == GuidePhase.WarmingUp ? state.Plan.WarmUpSeconds * 1.2 : state.Plan.StillSeconds * 1.2;

    private static GuideState Judge(GuideState state, List<GuidePrompt> prompts)
    {
        if (state.Window.Bins[^1].MeanCounts is >= CalibrationReading.CountsMax or <= CalibrationReading.CountsMin)
            return Remind(state, prompts, CoreText.GuideSaturated, 10);

        return state.Phase switch
        {
            GuidePhase.WarmingUp => WarmUp(state, prompts),
            GuidePhase.Awaiting => Await(state, prompts),
            GuidePhase.Dwelling => Dwell(state, prompts),
            _ => state,
        };
    }

    private static GuideState WarmUp(GuideState state, List<GuidePrompt> prompts)
    {
        if (state.Window.Last(state.Plan.WarmUpSeconds) is not { } window) return state;
        double drift = window.CountsPerSecond * 60;

        // In a minute no more than the standard deviation of single samples (and a count): such a drift is lost in a pull.
        double limit = state.Plan.DriftLimitCountsPerMinute ?? window.NoiseCounts + 1;
        state = state with { DriftCountsPerMinute = drift, DriftLimitCountsPerMinute = limit };
        if (Math.Abs(drift) > limit) return Remind(state, prompts, CoreText.GuideNotWarm(drift, limit), RemindSeconds);

        prompts.Add(new GuidePrompt(PromptKind.Information, CoreText.GuideWarm(drift, limit), true));
        state = GuideSteps.Warm(state, window);
        GuideSteps.Ask(state, prompts);
        return state;
    }

    private static GuideState Await(GuideState state, List<GuidePrompt> prompts)
    {
        var task = state.Plan.Tasks()[state.TaskIndex];
        int samples = task.Kind == GuideTaskKind.Zero ? SignalWindow.FluctuationSamples : 0;
        Sentence waiting = CoreText.GuideStillWaiting(task.Instruction);
        if (state.Window.Last(state.Plan.StillSeconds, samples) is not { } window) return Remind(state, prompts, waiting, RemindSeconds);
        double counts = window.MeanCounts;
        if (task.Kind == GuideTaskKind.ZeroReturn && !Unloaded(state, counts))
            return Remind(state with { SinceMicroseconds = state.LastMicroseconds }, prompts, waiting, RemindSeconds);
        if (!Moved(state, task, counts)) return Remind(state, prompts, waiting, RemindSeconds);
        if (!GuideStillness.Holds(state, window)) return Remind(state, prompts, CoreText.GuideSteadyIt, 20);
        if (task.Kind == GuideTaskKind.ZeroReturn && (state.LastMicroseconds - state.SinceMicroseconds)
            / 1e6 < state.Plan.ZeroReturnSeconds) return state;
        if (GuideSteps.TurnedTheOtherWay(state, task, counts))
        {
            prompts.Add(new GuidePrompt(PromptKind.Question, CoreText.GuideSignQuestion, true));
            return state with { Phase = GuidePhase.AskingSign };
        }

        return GuideSteps.Misfit(state, task, counts) is { } problem
            ? Reject(state, prompts, counts, problem)
            : GuideSteps.TakeReading(state, task, window, prompts);
    }

    private static GuideState Dwell(GuideState state, List<GuidePrompt> prompts)
    {
        if ((state.LastMicroseconds - state.SinceMicroseconds) / 1e6 < state.Plan.DwellSeconds) return state;
        if (state.Window.Last(state.Plan.StillSeconds) is not { } window) return state;
        var reading = state.Taken[^1].Reading;
        double moved = Math.Abs(window.MeanCounts - reading.Counts);
        double deflection = GuideLevels.Zero(state) is { } zero ? Math.Abs(reading.Counts - zero) : 0;

        // Creep of a sound cell is some hundredths of a per cent: what moved by half a per cent was touched.
        const double TouchedShare = 0.005;
        if (moved > (TouchedShare * deflection) + (6 * (state.WanderCounts ?? 0)))
        {
            prompts.Add(new GuidePrompt(PromptKind.Information, CoreText.GuideMovedInDwell, true));
            return GuideSteps.Next(state, prompts);
        }

        if (!GuideStillness.Holds(state, window)) return Remind(state, prompts, CoreText.GuideNotStillForCreep, 20);
        double dwelt = (state.LastMicroseconds!.Value - state.SinceMicroseconds!.Value) / 1e6;
        var taken = state.Taken[^1] with { Reading = reading with { AfterDwellCounts = window.MeanCounts, DwellSeconds = dwelt } };
        prompts.Add(new GuidePrompt(PromptKind.Taken, CoreText.GuideCreepRead(dwelt), true));
        return GuideSteps.Next(state with { Taken = [.. state.Taken.SkipLast(1), taken] }, prompts);
    }

    // Whether the signal has left the level of the reading before; a zero before anything hung needs no move.
    private static bool Moved(GuideState state, GuideTask task, double counts)
    {
        if (GuideLevels.Before(state) is not { } before || ReadingTable.Same(before.Newtons, task.Reference.Newtons)) return true;
        double change = Math.Abs(counts - before.Counts);
        return GuideLevels.CountsPerNewton(state) is { } slope
            ? change >= 0.5 * Math.Abs(slope * (task.Reference.Newtons - before.Newtons)) && !HandsAtWork(state, task, counts, slope)
            : change > (50 * (state.WanderCounts ?? 0)) + 20;
    }

    // Between two steps everything may come off for a moment: that is no reading, right or wrong.
    private static bool HandsAtWork(GuideState state, GuideTask task, double counts, double slope) =>
        task.Reference.Newtons > 0 && (counts - (GuideLevels.Zero(state) ?? 0)) / slope < 0.2 * state.Plan.Steps[0].Newtons;

    private static bool Unloaded(GuideState state, double counts) =>
        GuideLevels.Newtons(state, counts) is not { } newtons || Math.Abs(newtons) < 0.2 * state.Plan.Steps[0].Newtons;

    private static GuideState Reject(GuideState state, List<GuidePrompt> prompts, double counts, Sentence problem)
    {
        double near = (10 * (state.WanderCounts ?? 0)) + 2 + (1e-3 * Math.Abs(counts - (GuideLevels.Zero(state) ?? counts)));
        if (state.RejectedCounts is { } before && Math.Abs(before - counts) <= near) return state;
        prompts.Add(new GuidePrompt(PromptKind.Rejected, problem, true));
        return state with { RejectedCounts = counts, RemindedMicroseconds = state.LastMicroseconds };
    }

    private static GuideState Remind(GuideState state, List<GuidePrompt> prompts, Sentence text, double everySeconds)
    {
        long last = state.RemindedMicroseconds ?? state.SinceMicroseconds ?? 0;
        if ((state.LastMicroseconds - last) / 1e6 < everySeconds) return state;
        prompts.Add(new GuidePrompt(PromptKind.Information, text, false));
        return state with { RemindedMicroseconds = state.LastMicroseconds };
    }
}
