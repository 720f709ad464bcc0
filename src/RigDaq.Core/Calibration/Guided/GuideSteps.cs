using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Calibration.Guided;

/// <summary>The steps a guided calibration makes: from task to task, back, and on to the review.</summary>
internal static class GuideSteps
{
    // Readings of one step in different series that lie farther apart than this share are looked at again at the end.
    private const double SeriesSpreadShare = 0.003;

    public static GuideState Warm(GuideState state, WindowReading rest) => Await(state with
    {
        NoiseCounts = rest.NoiseCounts,
        WanderCounts = rest.StepCounts,
    });

    /// <summary>Waits for the task at hand, with a fresh window.</summary>
    public static GuideState Await(GuideState state) => state with
    {
        Phase = GuidePhase.Awaiting,
        Window = new SignalWindow(),
        SinceMicroseconds = state.LastMicroseconds,
        RemindedMicroseconds = null,
        RejectedCounts = null,
    };

    public static void Ask(GuideState state, List<GuidePrompt> prompts)
    {
        var task = state.Plan.Tasks()[state.TaskIndex];

        // A zero that follows a zero needs no word: nothing is to be done for it.
        if (task.Kind == GuideTaskKind.Zero && state.Taken.Count > 0 && state.Taken[^1].Reading.IsZero) return;
        prompts.Add(new GuidePrompt(PromptKind.Instruction, task.Instruction, true));
    }

    public static GuideState TakeReading(GuideState state, GuideTask task, WindowReading window, List<GuidePrompt> prompts)
    {
        var recent = state.Window.Recent;
        var reading = new CalibrationReading
        {
            Series = task.Series,
            Direction = task.Direction,
            Reference = task.Reference,
            Counts = window.MeanCounts,
            NoiseCounts = window.NoiseCounts,
            FluctuationCounts = task.Kind == GuideTaskKind.Zero && recent.Count >= SignalWindow.FluctuationSamples
                ? recent.Max() - recent.Min() : null,
            DeviceMicroseconds = state.LastMicroseconds,
        };
        int place = state.TaskIndex + 1, places = state.Plan.Tasks().Count;
        prompts.Add(new GuidePrompt(PromptKind.Taken, task.Reference.Newtons > 0
            ? CoreText.GuideForceTaken(task.Reference.Newtons, place, places) : CoreText.GuideZeroTaken(place, places), true));
        state = state with { Taken = [.. state.Taken, new GuideReading(state.TaskIndex, reading)] };
        if (!task.Dwell) return Next(state, prompts);
        prompts.Add(new GuidePrompt(PromptKind.Instruction, CoreText.GuideLeaveHanging(state.Plan.DwellSeconds), true));
        return state with
        {
            Phase = GuidePhase.Dwelling,
            SinceMicroseconds = state.LastMicroseconds,
            RemindedMicroseconds = state.LastMicroseconds
        };
    }

    public static GuideState Next(GuideState state, List<GuidePrompt> prompts)
    {
        var tasks = state.Plan.Tasks();

        // After a series was taken again the later ones are there already.
        int next = state.TaskIndex + 1;
        while (next < tasks.Count && state.Taken.Any(taken => taken.TaskIndex == next)) next++;
        if (next < tasks.Count)
        {
            state = Await(state with { TaskIndex = next });
            Ask(state, prompts);
            return state;
        }

        if (state.SeriesRepeated < CalibrationGuide.SeriesRepeatsMax && Straggler(state) is { } straggler)
        {
            prompts.Add(new GuidePrompt(PromptKind.Rejected,
                CoreText.GuideSeriesAgain(straggler.Series, straggler.Newtons, straggler.Percent), true));
            int first = tasks.ToList().FindIndex(task => task.Series == straggler.Series);
            state = RestartSeries(state with { TaskIndex = first, SeriesRepeated = state.SeriesRepeated + 1 });
            Ask(state, prompts);
            return state;
        }

        prompts.Add(new GuidePrompt(PromptKind.Question, CoreText.GuideAllTaken, true));
        return state with { Phase = GuidePhase.Review, Window = new SignalWindow() };
    }

    /// <summary>Begins the series of the task at hand again; after a repeat of an earlier series the later ones are kept.</summary>
    public static GuideState RestartSeries(GuideState state)
    {
        var tasks = state.Plan.Tasks();
        string series = tasks[state.TaskIndex].Series;
        int first = tasks.ToList().FindIndex(task => task.Series == series);
        return Await(state with { TaskIndex = first, Taken = [.. state.Taken.Where(taken => taken.Reading.Series != series)] });
    }

    public static bool TurnedTheOtherWay(GuideState state, GuideTask task, double counts) =>
        !state.NegativeSlopeAccepted && task.Reference.Newtons > 0 && GuideLevels.CountsPerNewton(state) is null
        && GuideLevels.Zero(state) is { } zero && counts < zero;

    /// <summary>Why a still level is not what was asked for; null where it fits.</summary>
    public static Sentence? Misfit(GuideState state, GuideTask task, double counts)
    {
        if (GuideLevels.CountsPerNewton(state) is not { } slope || GuideLevels.Newtons(state, counts) is not { } newtons) return null;
        double allowed = GuideLevels.MisfitNewtons(state, task, slope);
        if (Math.Abs(newtons - task.Reference.Newtons) <= allowed) return null;
        return task.Reference.Newtons > 0 ? CoreText.GuideReadsOtherForce(newtons, task.Reference.Newtons, task.Reference.Description)
            : CoreText.GuideReadsForceUnloaded(newtons);
    }

    // The reading farthest from the median of its step over the series, if it lies too far off; needs three series to tell which one.
    private static (string Series, double Newtons, double Percent)? Straggler(GuideState state)
    {
        if (state.Plan.RisingSeries < 3) return null;
        var deflections = new List<(string Series, double Newtons, double Counts)>();
        foreach (var series in state.FitReadings().GroupBy(reading => reading.Series))
        {
            double zero = series.First(reading => reading.IsZero).Counts;
            deflections.AddRange(series.Where(reading => !reading.IsZero && reading.Direction == LoadDirection.Rising)
                .Select(reading => (series.Key, reading.Reference.Newtons, reading.Counts - zero)));
        }

        (string, double, double)? worst = null;
        double farthest = 1;
        foreach (var step in deflections.GroupBy(one => one.Newtons))
        {
            double[] sorted = [.. step.Select(one => one.Counts).Order()];
            double median = sorted[sorted.Length / 2];
            double allowed = (SeriesSpreadShare * Math.Abs(median)) + (6 * (state.WanderCounts ?? 0)) + 1;
            foreach (var (series, newtons, counts) in step)
            {
                if (Math.Abs(counts - median) / allowed <= farthest) continue;
                farthest = Math.Abs(counts - median) / allowed;
                worst = (series, newtons, 100 * (counts - median) / median);
            }
        }

        return worst;
    }
}
