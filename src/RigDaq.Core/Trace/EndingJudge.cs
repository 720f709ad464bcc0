using RigDaq.Core.Pulls;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Trace;

/// <summary>How a recorded force ended.</summary>
/// <param name="Ending">No contact is not among them: somebody has to have touched it.</param>
/// <param name="Fall">The fall that separated it, or the last one; null where it never fell so far.</param>
/// <param name="Steps">The sudden steps in which it lost load for good.</param>
internal readonly record struct JudgedEnding(PullEnding Ending, Fall? Fall, IReadOnlyList<LoadStep> Steps);

/// <summary>Judges how a recorded force ended, with all of it in sight: broken, partly broken, slipped out or unbroken. A recording has no
/// settling window to wait for: where it stops in a fall, its last sample says what is left.</summary>
internal static class EndingJudge
{
    // A sudden loss of this share of what the limit asks for (a third of the greatest force, where 40 % may remain), that never came back,
    // is a partial break, though more than the limit is left.
    private const double LostShare = 5.0 / 9;

    // So much of the greatest force has to be lost in sudden steps, two or more, to call it a break in steps and not a slide.
    private const double InStepsShare = 0.5;

    // The break of several steps is the first that is this share of the deepest.
    private const double MainShare = 0.5;

    // A crosshead that moves by less than this share of the way before is held.
    private const double HeldShare = 0.02;
    private const double ClearShare = 0.95;

    // Below this rate a sudden fall and one over some samples look alike, in samples a second.
    private const double SlowRateHertz = 10;

    /// <summary>Judges.</summary>
    /// <param name="loaded">The samples.</param>
    /// <param name="settings">How a break is told.</param>
    /// <param name="warnings">What a person should know is added.</param>
    public static JudgedEnding Of(LoadedTrace loaded, DetectionSettings settings, List<Sentence> warnings)
    {
        (DespikedTrace trace, int contact, double intervalSeconds) = (loaded.Despiked, loaded.Contact, loaded.IntervalSeconds);
        double window = Math.Max(settings.FallSeconds, FallFinder.SuddenIntervals * intervalSeconds) - FallFinder.RoundingSeconds;
        IReadOnlyList<FallSteps.Step> steps = FallSteps.Find(loaded, window);
        Fall? fall = FallFinder.Find(loaded, settings);
        JudgedEnding judged = fall is { } f
            ? Fallen(trace, contact, loaded.ContactNewtons, settings, f, steps, warnings)
            : Held(trace, contact, settings, steps, warnings);
        if (judged.Ending is PullEnding.Broken or PullEnding.PartlyBroken && intervalSeconds * SlowRateHertz > 1)
            warnings.Add(CoreText.TooSlowToTimeFall(1 / intervalSeconds, window));
        return judged;
    }

    private static JudgedEnding Fallen(DespikedTrace trace, int contact, double contactNewtons, DetectionSettings settings, Fall fall,
        IReadOnlyList<FallSteps.Step> steps, List<Sentence> warnings)
    {
        (double[] times, double[] forces) = (trace.Times, trace.Forces);
        double greatest = forces.AsSpan(contact, fall.Crossing - contact).ToArray().Max();
        double nothing = Math.Max(BreakDetector.NothingLeftPercent / 100 * greatest, contactNewtons);
        LoadStep[] loads = [.. steps.Select(step => step.Load)];
        if (fall.Crossing - fall.Start > BreakDetector.SamplesMin && WentBack(trace, contact, fall.Start, fall.Crossing))
        {
            warnings.Add(CoreText.TraceUnloaded);
            return new JudgedEnding(PullEnding.Unbroken, fall, []);
        }

        if (!fall.IsSudden && steps.Sum(step => step.Depth) < InStepsShare * greatest && StoodStill(trace, contact, fall.Crossing))
        {
            warnings.Add(CoreText.TraceRelaxed);
            return new JudgedEnding(PullEnding.Unbroken, fall, []);
        }

        bool broke = fall.IsSudden;
        double left = fall.LeftNewtons;
        if (!broke && steps.Count > 1 && steps.Sum(step => step.Depth) >= InStepsShare * greatest)
        {
            FallSteps.Step main = Main(steps);
            double atLast = FallFinder.AtLast(times, forces, settings.SettlingSeconds);

            // What went down to nothing slowly, after the last step, was a remnant that bore load.
            left = Math.Max(atLast, steps[^1].Load.LeftNewtons);
            fall = fall with
            {
                Start = main.Start,
                Crossing = main.Left,
                Seconds = 0,
                IsSudden = true,
                LeftNewtons = left,
                SettledSamples = forces.Length - main.Left
            };
            broke = true;
        }

        // Nothing left is a break at once; what still carries load might have come back until the settling window closes.
        bool stops = times[^1] - times[fall.Crossing] < settings.SettlingSeconds - FallFinder.RoundingSeconds
            || fall.SettledSamples < BreakDetector.SamplesMin;
        if (stops && (left > nothing || fall.SettledSamples < BreakDetector.SamplesMin))
            warnings.Add(CoreText.RecordingStopsInFall(100 * left / greatest));
        PullEnding ending = !broke ? PullEnding.SlippedOut : left > nothing ? PullEnding.PartlyBroken : PullEnding.Broken;
        if (broke && loads.Length > 1) warnings.Add(CoreText.BrokeInSteps(loads.Length));
        else if (broke && fall.RemnantClimbed) warnings.Add(CoreText.RemnantClimbed);
        return new JudgedEnding(ending, fall, loads);
    }

    /// <summary>The force ends above its limit, and never broke as far before.</summary>
    private static JudgedEnding Held(DespikedTrace trace, int contact, DetectionSettings settings, IReadOnlyList<FallSteps.Step> steps,
        List<Sentence> warnings)
    {
        (double[] times, double[] forces) = (trace.Times, trace.Forces);
        int top = contact;
        for (int i = contact; i < forces.Length; i++)
        {
            if (forces[i] > forces[top]) top = i;
        }

        double greatest = forces[top];
        double lost = LostShare * (1 - (settings.RemainingPercent / 100));
        bool back = WentBack(trace, contact, top, forces.Length - 1);
        double left = Math.Min(forces[^1], FallFinder.AtLast(times, forces, settings.SettlingSeconds));
        bool stops = steps.Count > 0 && times[^1] - times[steps[^1].Left] < settings.SettlingSeconds - FallFinder.RoundingSeconds;

        // Where the recording stops in the fall, nobody saw the rest of it: half of that loss is enough.
        double enough = stops ? lost / 2 : lost;
        if (!back && steps.Count > 0 && steps.Sum(step => step.Depth) >= enough * greatest && left <= (1 - lost) * greatest)
        {
            FallSteps.Step main = Main(steps);
            warnings.Add(stops ? CoreText.RecordingStopsInFall(100 * left / greatest)
                : CoreText.PartOfLoadLost(100 * steps.Sum(step => step.Depth) / greatest, 100 * left / greatest));
            var fall = new Fall(main.Start, main.Left, 0, true, left, forces.Length - main.Left);
            return new JudgedEnding(PullEnding.PartlyBroken, fall, [.. steps.Select(step => step.Load)]);
        }

        bool low = forces[^1] <= (1 - lost) * greatest;
        if (low && back) warnings.Add(CoreText.TraceUnloaded);
        else if (low && StoodStill(trace, contact, forces.Length - 1)) warnings.Add(CoreText.TraceRelaxed);
        else if (low) warnings.Add(CoreText.TraceEndsLow(100 * forces[^1] / greatest));
        return new JudgedEnding(PullEnding.Unbroken, null, [.. steps.Select(step => step.Load)]);
    }

    private static FallSteps.Step Main(IReadOnlyList<FallSteps.Step> steps)
    {
        double deepest = steps.Max(step => step.Depth);
        return steps.First(step => step.Depth >= MainShare * deepest);
    }

    /// <summary>Whether the crosshead went against the way that loaded it: unloaded, not broken.</summary>
    private static bool WentBack(DespikedTrace trace, int contact, int from, int to) =>
        trace.Positions is { } positions && to - from >= BreakDetector.SamplesMin
        && (positions[to] - positions[from]) * Way(trace, positions, contact) < 0;

    /// <summary>Whether the crosshead stood while the force went down from its greatest.</summary>
    private static bool StoodStill(DespikedTrace trace, int contact, int to)
    {
        if (trace.Positions is not { } positions) return false;

        // From where it is clearly below its greatest: the last of the way there is still the loading's.
        double[] forces = trace.Forces;
        int from = Top(forces, contact, to);
        double clear = ClearShare * forces[from];
        while (from < to && forces[from] >= clear) from++;
        double way = Way(trace, positions, contact);
        return way != 0 && to - from >= BreakDetector.SamplesMin && Math.Abs(positions[to] - positions[from]) <= HeldShare * Math.Abs(way);
    }

    /// <summary>From the first sample to the greatest force: below zero where a machine counts the way of its crosshead down.</summary>
    private static double Way(DespikedTrace trace, double[] positions, int contact) =>
        positions[Top(trace.Forces, contact, trace.Forces.Length - 1)] - positions[0];

    private static int Top(double[] forces, int contact, int to)
    {
        int top = contact;
        for (int i = contact; i <= to; i++)
        {
            if (forces[i] > forces[top]) top = i;
        }

        return top;
    }
}
