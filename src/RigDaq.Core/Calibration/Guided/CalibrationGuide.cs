using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Calibration.Guided;

/// <summary>Guides a person through a calibration: <c>(state, event) → (state, prompts)</c>. It watches the signal, takes the readings
/// itself, rejects what swings or does not fit, and puts nothing in force. All time is the device's, and comes with the samples.</summary>
public static class CalibrationGuide
{
    /// <summary>The longest pause after which a series goes on where it stood, in seconds; after a longer one it begins again.</summary>
    public const double ResumeSecondsMax = 600;

    /// <summary>How often a whole series is asked for again because a reading does not fit, before the person decides.</summary>
    public const int SeriesRepeatsMax = 2;

    /// <summary>What is said before anything is hung.</summary>
    public static Sentence Caution => CoreText.GuideCaution;

    /// <summary>Begins.</summary>
    /// <param name="plan">What is to be done.</param>
    /// <param name="circumstances">Under what; kept with the state.</param>
    /// <param name="inputs">What is known of cell and room; kept with the state.</param>
    /// <exception cref="ArgumentException">The plan is out of range.</exception>
    public static (GuideState State, IReadOnlyList<GuidePrompt> Prompts) Begin(GuidePlan plan,
        CalibrationCircumstances? circumstances = null, UncertaintyInputs? inputs = null)
    {
        var state = new GuideState { Plan = GuidePlan.Checked(plan), Circumstances = circumstances ?? new(), Inputs = inputs ?? new() };
        return (state,
        [
            .. plan.NotKnown().Select(note => new GuidePrompt(PromptKind.Information, note, false)),
            new GuidePrompt(PromptKind.Information, Caution, false),
            new GuidePrompt(PromptKind.Instruction, CoreText.GuideBegin, true),
        ]);
    }

    /// <summary>Takes what happened.</summary>
    public static (GuideState State, IReadOnlyList<GuidePrompt> Prompts) Handle(GuideState state, GuideEvent what)
    {
        var prompts = new List<GuidePrompt>();
        state = what switch
        {
            GuideEvent.Samples samples => SignalWatch.Take(state, samples.Block, samples.BootNumber, prompts),
            GuideEvent.Person person => PersonWatch.Take(state, person.Action, person.Degree, prompts),
            _ => state,
        };
        return (state, prompts);
    }

    /// <summary>The fit of what was read.</summary>
    /// <param name="state">In <see cref="GuidePhase.Review"/> or later.</param>
    /// <param name="degree">1 to 3.</param>
    /// <param name="inputs">What is known of cell and room; as kept with the state by default.</param>
    /// <exception cref="CalibrationRefusedException">The readings cannot carry it.</exception>
    public static CalibrationFit Fit(GuideState state, int degree = 1, UncertaintyInputs? inputs = null) =>
        CalibrationFit.Of(state.FitReadings(), new FitSettings { Degree = degree, NegativeSlopeAccepted = state.NegativeSlopeAccepted },
            inputs ?? state.Inputs);

    /// <summary>The degree that the readings speak for; 1 where they cannot carry a fit.</summary>
    /// <param name="state">In <see cref="GuidePhase.Review"/> or later.</param>
    public static int AdvisedDegree(GuideState state)
    {
        try
        {
            return CalibrationFit.Of(state.FitReadings(), new FitSettings { NegativeSlopeAccepted = state.NegativeSlopeAccepted },
                state.Inputs).Figures.AdvisedDegree;
        }
        catch (CalibrationRefusedException)
        {
            // The fit itself says why, where it is asked for.
            return 1;
        }
    }

    /// <summary>What a page or a terminal shows.</summary>
    public static GuideView Describe(GuideState state) => GuideView.Of(state);
}
