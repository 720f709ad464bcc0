using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Calibration.Guided;

/// <summary>What a person does to a guided calibration.</summary>
internal static class PersonWatch
{
    public static GuideState Take(GuideState state, PersonAction action, int degree, List<GuidePrompt> prompts)
    {
        if (state.Phase is GuidePhase.Accepted or GuidePhase.Abandoned) return Refuse(state, prompts, CoreText.GuideFinished);
        if (state.Phase == GuidePhase.Paused && action is not (PersonAction.Resume or PersonAction.Abandon))
            return Refuse(state, prompts, CoreText.GuideResumeFirst);
        return action switch
        {
            PersonAction.SkipWarmUp => SkipWarmUp(state, prompts),
            PersonAction.TakeAnyway => TakeAnyway(state, prompts),
            PersonAction.GoBack => GoBack(state, prompts),
            PersonAction.RestartSeries => RestartSeries(state, prompts),
            PersonAction.SkipDwell when state.Phase == GuidePhase.Dwelling => GuideSteps.Next(state, prompts),
            PersonAction.Pause => Pause(state, prompts),
            PersonAction.Resume when state.Phase == GuidePhase.Paused => Resume(state, prompts),
            PersonAction.TurnSign when state.Phase == GuidePhase.AskingSign => TurnSign(state, prompts),
            PersonAction.Accept => Accept(state, degree, prompts),
            PersonAction.Abandon => Abandon(state, prompts),
            _ => Refuse(state, prompts, CoreText.GuideNotPossibleNow),
        };
    }

    private static GuideState SkipWarmUp(GuideState state, List<GuidePrompt> prompts)
    {
        if (state.Phase != GuidePhase.WarmingUp) return Refuse(state, prompts, CoreText.GuideWarmAlready);
        if (state.Window.Last(state.Plan.StillSeconds) is not { } rest) return Refuse(state, prompts, CoreText.GuideNoiseNotKnown);
        Sentence note = state.DriftCountsPerMinute is { } drift ? CoreText.GuideNoteWarmUpCut(drift) : CoreText.GuideNoteWarmUpUnknown;
        state = GuideSteps.Warm(state with { Notes = [.. state.Notes, note] }, rest);
        GuideSteps.Ask(state, prompts);
        return state;
    }

    private static GuideState TakeAnyway(GuideState state, List<GuidePrompt> prompts)
    {
        if (state.Phase != GuidePhase.Awaiting || state.RejectedCounts is null)
            return Refuse(state, prompts, CoreText.GuideNothingRejected);
        var task = state.Plan.Tasks()[state.TaskIndex];
        if (state.Window.Last(state.Plan.StillSeconds) is not { } window || !GuideStillness.Holds(state, window)) return
            Refuse(state, prompts, CoreText.GuideNotStill);
        Sentence note = CoreText.GuideNoteTakenAnyway(task.Series, task.Reference.Newtons);
        return GuideSteps.TakeReading(state with { Notes = [.. state.Notes, note] }, task, window, prompts);
    }

    private static GuideState GoBack(GuideState state, List<GuidePrompt> prompts)
    {
        if (state.Phase is not (GuidePhase.Awaiting or GuidePhase.Dwelling or GuidePhase.AskingSign) || state.Taken.Count == 0)
            return Refuse(state, prompts, CoreText.GuideNothingToTakeAgain);
        state = GuideSteps.Await(state with { TaskIndex = state.Taken[^1].TaskIndex, Taken = [.. state.Taken.SkipLast(1)] });
        GuideSteps.Ask(state, prompts);
        return state;
    }

    private static GuideState RestartSeries(GuideState state, List<GuidePrompt> prompts)
    {
        if (state.Phase is GuidePhase.WarmingUp) return Refuse(state, prompts, CoreText.GuideNoSeriesBegun);
        state = GuideSteps.RestartSeries(state);
        prompts.Add(new GuidePrompt(PromptKind.Instruction, state.Plan.Tasks()[state.TaskIndex].Instruction, true));
        return state;
    }

    private static GuideState Pause(GuideState state, List<GuidePrompt> prompts)
    {
        prompts.Add(new GuidePrompt(PromptKind.Information, CoreText.GuideStopped, true));
        return state with { Phase = GuidePhase.Paused, ResumeTo = state.Phase, Window = new SignalWindow() };
    }

    private static GuideState Resume(GuideState state, List<GuidePrompt> prompts)
    {
        state = state with { Phase = state.ResumeTo, JustResumed = true, Window = new SignalWindow(), RemindedMicroseconds = null };
        if (state.Phase == GuidePhase.Dwelling)
        {
            // The dwell was not watched: the reading stands, its creep is left out.
            return GuideSteps.Next(state, prompts);
        }

        if (state.Phase == GuidePhase.Awaiting)
            prompts.Add(new GuidePrompt(PromptKind.Instruction, state.Plan.Tasks()[state.TaskIndex].Instruction, true));
        else if (state.Phase == GuidePhase.Review)
            prompts.Add(new GuidePrompt(PromptKind.Question, CoreText.GuideAllTaken, true));
        else prompts.Add(new GuidePrompt(PromptKind.Information, CoreText.GuideGoingOn, true));
        return state;
    }

    private static GuideState TurnSign(GuideState state, List<GuidePrompt> prompts)
    {
        state = GuideSteps.Await(state with { NegativeSlopeAccepted = true, Notes = [.. state.Notes, CoreText.GuideNoteSignAgreed] });
        prompts.Add(new GuidePrompt(PromptKind.Information, CoreText.GuideSignTurned, true));
        return state;
    }

    private static GuideState Accept(GuideState state, int degree, List<GuidePrompt> prompts)
    {
        if (state.Phase != GuidePhase.Review) return Refuse(state, prompts, CoreText.GuideNotAllTaken);
        try
        {
            CalibrationGuide.Fit(state, degree);
        }
        catch (CalibrationRefusedException refusal)
        {
            return Refuse(state, prompts, CoreText.GuideCannotAccept(refusal.Sentence));
        }

        prompts.Add(new GuidePrompt(PromptKind.Information, CoreText.GuideAccepted, true));
        return state with { Phase = GuidePhase.Accepted };
    }

    private static GuideState Abandon(GuideState state, List<GuidePrompt> prompts)
    {
        prompts.Add(new GuidePrompt(PromptKind.Information, CoreText.GuideGivenUp, true));
        return state with { Phase = GuidePhase.Abandoned };
    }

    private static GuideState Refuse(GuideState state, List<GuidePrompt> prompts, Sentence why)
    {
        prompts.Add(new GuidePrompt(PromptKind.Refused, why, false));
        return state;
    }
}
