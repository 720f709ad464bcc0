using RigDaq.App.Calibrations;
using RigDaq.App.Text;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Quantities;
using RigDaq.Text;

namespace RigDaq.Web.Views;

/// <summary>A calibration as its page shows it.</summary>
internal sealed record CalibrationView
{
    /// <summary>What the page offers before any was begun.</summary>
    internal static CalibrationView None { get; } = new();

    /// <summary>"none", or the guide's phase in words.</summary>
    public string Phase { get; init; } = "none";

    public string Instruction { get; init; } = "";

    public int Done { get; init; }

    public int Total { get; init; }

    public string Series { get; init; } = "";

    public double? WantedNewtons { get; init; }

    public double? Counts { get; init; }

    public double? ForceNewtons { get; init; }

    public bool Still { get; init; }

    public double? DriftCountsPerMinute { get; init; }

    public double? DriftLimitCountsPerMinute { get; init; }

    public double? WaitedSeconds { get; init; }

    public double? WaitSeconds { get; init; }

    /// <summary>Whether a reading was rejected and may be taken anyway.</summary>
    public bool Rejected { get; init; }

    public IReadOnlyList<PromptView> Prompts { get; init; } = [];

    public FitView? Fit { get; init; }

    /// <summary>Why there is no fit, in words; empty where there is one or it is not yet time.</summary>
    public string FitProblem { get; init; } = "";

    internal static CalibrationView Of(CalibrationStanding? standing, Units units)
    {
        if (standing is not { State: { } state }) return None;
        GuideView view = CalibrationGuide.Describe(state);
        return new CalibrationView
        {
            Phase = Word(view.Phase),
            Instruction = view.Instruction.In(units),
            Done = view.Done,
            Total = view.Total,
            Series = view.Task?.Series ?? "",
            WantedNewtons = view.Wanted?.Newtons,
            Counts = StateView.Finite(view.Counts),
            ForceNewtons = StateView.Finite(view.ForceNewtons),
            Still = view.Still,
            DriftCountsPerMinute = StateView.Finite(view.DriftCountsPerMinute),
            DriftLimitCountsPerMinute = StateView.Finite(view.DriftLimitCountsPerMinute),
            WaitedSeconds = view.WaitedSeconds,
            WaitSeconds = view.WaitSeconds,
            Rejected = state.Phase == GuidePhase.Awaiting && state.RejectedCounts is not null,
            Prompts = [.. standing.Prompts.Select(prompt => PromptView.Of(prompt.Number, prompt.Prompt, units))],
            Fit = standing.Fit is { } fit ? FitView.Of(fit, units) : null,
            FitProblem = standing.Problem.In(units),
        };
    }

    internal static string Word(GuidePhase phase) => phase switch
    {
        GuidePhase.WarmingUp => "warming up",
        GuidePhase.Awaiting => "waiting for the weights",
        GuidePhase.Dwelling => "reading the creep",
        GuidePhase.AskingSign => "asking",
        GuidePhase.Paused => "paused",
        GuidePhase.Review => "review",
        GuidePhase.Accepted => "accepted",
        GuidePhase.Abandoned => "given up",
        _ => throw new ArgumentOutOfRangeException(nameof(phase), phase, "No such phase."),
    };
}

/// <summary>A word to the person.</summary>
/// <param name="Number">Counts them, so that a page knows which are new.</param>
/// <param name="Kind">What it is about: instruction, information, taken, rejected, question, refused.</param>
/// <param name="Text">The words.</param>
/// <param name="Aloud">Whether a tone goes with it.</param>
internal sealed record PromptView(long Number, string Kind, string Text, bool Aloud)
{
    internal static PromptView Of(long number, GuidePrompt prompt, Units units) => new(number, prompt.Kind switch
    {
        PromptKind.Instruction => "instruction",
        PromptKind.Taken => "taken",
        PromptKind.Rejected => "rejected",
        PromptKind.Question => "question",
        PromptKind.Refused => "refused",
        _ => "information",
    }, prompt.Text.In(units), prompt.Aloud);
}

/// <summary>The figures to look at before a calibration is accepted.</summary>
internal sealed record FitView(int Degree, int AdvisedDegree, string Class, IReadOnlyList<double> Coefficients,
    double ResidualStandardDeviationNewtons, IReadOnlyList<StepView> Steps, double? ZeroErrorPercent, string DegreeAdvice,
    IReadOnlyList<string> Warnings, IReadOnlyList<ResidualView> Residuals)
{
    internal static FitView Of(CalibrationFit fit, Units units)
        => new(fit.Settings.Degree, fit.Figures.AdvisedDegree,
        fit.Figures.Class?.Sentence.In(units) ?? PageText.Of("dashboard.noClass"), fit.Polynomial.Coefficients,
        fit.Polynomial.ResidualStandardDeviation,
        [.. fit.Figures.Steps.Select(s => new StepView(s.ReferenceNewtons, StateView.Finite(s.IndicationErrorPercent),
            StateView.Finite(s.RepeatabilityPercent), StateView.Finite(s.ReversibilityPercent), StateView.Finite(s.ResolutionPercent),
            StateView.Finite(s.ExpandedUncertaintyPercent)))],
        StateView.Finite(fit.Figures.ZeroErrorPercent), fit.Figures.DegreeAdvice.In(units),
            fit.Figures.Warnings.In(units),
        [.. fit.Points.Select(p => new ResidualView(p.Series, p.ForceNewtons, p.ResidualNewtons))]);
}

/// <summary>How good it is at one force; in per cent of it.</summary>
internal sealed record StepView(double ReferenceNewtons, double? IndicationErrorPercent, double? RepeatabilityPercent,
    double? ReversibilityPercent, double? ResolutionPercent, double? ExpandedUncertaintyPercent);

/// <summary>What the curve leaves over at a reading.</summary>
internal sealed record ResidualView(string Series, double ForceNewtons, double ResidualNewtons);
