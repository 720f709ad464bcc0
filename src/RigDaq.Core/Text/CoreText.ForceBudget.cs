namespace RigDaq.Core.Text;

/// <content>The uncertainty of a force under a calibration: the lines of its budget and what to know of it.</content>
internal static partial class CoreText
{
    public const string ForceExtrapolated = "extrapolated";

    public const string ForceBudgetGravity = "reference forces: local gravity";
    public const string ForceBudgetReferences = "reference forces: masses, certificates, air";
    public const string ForceBudgetFit = "fit (scatter, repeatability and zeros of the series)";
    public const string ForceBudgetResolution = "resolution at zero and reading";
    public const string ForceBudgetStepOfReading = "resolution: converter's step at the reading";
    public const string ForceBudgetGrowingNoise = "noise of one sample that grows with the force";
    public const string ForceBudgetReversibility = "reversibility";
    public const string ForceBudgetReversibilityBack = "reversibility, read on the way back";
    public const string ForceBudgetZeroDrift = "drift of the zero";
    public const string ForceBudgetCreep = "creep over the dwell";
    public const string ForceBudgetTemperature = "temperature";
    public const string ForceBudgetExtrapolation = "non-linearity beyond the greatest reference";
    public const string ForceBudgetShapeSeen = "what the curve is off by, as the residuals show (bend of the cell, scatter)";
    public const string ForceBudgetShapeUnseen = "bend of the cell that the references do not show";
    public const string ForceBudgetConverterStep = "converter's step in the readings of the calibration";

    public const string ForceBudgetNormal = "normal";
    public const string ForceBudgetAsGiven = "as given";
    public const string ForceBudgetRectangular = "rectangular, /√3";
    public const string ForceBudgetRectangularResolution = "range/√24 and step/√12";
    public const string ForceBudgetRectangularStep = "rectangular, step/√12 each";
    public const string ForceBudgetOfWindows = "normal, windows under load";
    public const string ForceBudgetPartOfReturns = "root mean square of the returns, /√3";
    public const string ForceBudgetKnown = "known, not corrected";

    public const string ForceReferencesExact = "The references' uncertainty was not given: they are taken as exact, and the figure is too small.";
    public const string ForceReversibilityUnknown = "The reversibility is not known: no falling series.";
    public const string ForceCreepUnknown = "The creep is not known: no reading after a dwell.";
    public const string ForceFullScaleAssumed = "The cell's full scale is not known: the force itself is taken for it.";

    public static string ForceNonLinearityAssumedBeyond(double percent) => FormattableString.Invariant(
        $"The cell's non-linearity is not known: beyond the references {percent} % of full scale is assumed.");

    public static string ForceNonLinearityAssumed(double percent) =>
        FormattableString.Invariant($"The cell's non-linearity is not known: {percent} % of full scale is assumed.");

    public static string ForceZeroDriftAssumed(double percent) =>
        FormattableString.Invariant($"The drift of the zero is not known, no zero was read after unloading: ±{percent} % of the greatest reference is assumed.");

    public static string ForceTemperatureAssumed(double percentPerKelvin, bool effectIsEntered, double spreadKelvin, bool spreadIsEntered)
    {
        const string Entered = " (entered)";
        return FormattableString.Invariant(
            $"The temperature's effect is not known: {percentPerKelvin} % per kelvin{(effectIsEntered ? Entered : "")} and ±{spreadKelvin} K{(spreadIsEntered ? Entered : "")} are assumed.");
    }

    public static string ForceBeyondCurve(int degree, double greatestNewtons) => FormattableString.Invariant(
        $"A curve of degree {degree} says nothing beyond its greatest reference force of {greatestNewtons:0.#} N; only a straight line may be carried on.");

    public static string ForceAboveReferences(double greatestNewtons) =>
        FormattableString.Invariant($"Above the greatest reference force of {greatestNewtons:0.#} N: the calibration is carried on in a straight line.");

    public static string ForceFarAboveReferences(double greatestNewtons) =>
        FormattableString.Invariant($"{ForceExtrapolated}: more than twice the greatest reference force of {greatestNewtons:0.#} N.");
}
