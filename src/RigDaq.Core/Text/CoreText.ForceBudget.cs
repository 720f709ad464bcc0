namespace RigDaq.Core.Text;

/// <content>The uncertainty of a force under a calibration: the lines of its budget and what to know of it.</content>
internal static partial class CoreText
{
    public const string ForceExtrapolated = "extrapolated";

    public const string ForceBudgetGravity = "reference forces: local gravity";
    public const string ForceBudgetReferences = "reference forces: masses, certificates, air";
    public const string ForceBudgetFit = "fit (scatter, repeatability and zeros of the series)";
    public const string ForceBudgetResolution = "resolution at zero and reading";
    public const string ForceBudgetReversibility = "reversibility";
    public const string ForceBudgetZeroDrift = "drift of the zero";
    public const string ForceBudgetCreep = "creep over the dwell";
    public const string ForceBudgetTemperature = "temperature";
    public const string ForceBudgetExtrapolation = "non-linearity beyond the greatest reference";

    public const string ForceBudgetNormal = "normal";
    public const string ForceBudgetAsGiven = "as given";
    public const string ForceBudgetRectangular = "rectangular, /√3";
    public const string ForceBudgetRectangularResolution = "rectangular, r/√6";
    public const string ForceBudgetRectangularReversibility = "rectangular, v/(2√3)";

    public const string ForceReferencesExact = "The references' uncertainty was not given: they are taken as exact, and the figure is too small.";
    public const string ForceReversibilityUnknown = "The reversibility is not known: no falling series.";
    public const string ForceZeroDriftUnknown = "The drift of the zero is not known: no zero after unloading.";
    public const string ForceCreepUnknown = "The creep is not known: no reading after a dwell.";
    public const string ForceTemperatureUnknown = "The temperature's effect was not given.";
    public const string ForceNonLinearityAssumed = "The cell's non-linearity is not known: 0.05 % of full scale is assumed.";
    public const string ForceFullScaleAssumed = "The cell's full scale is not known: the force itself is taken for it.";

    public static string ForceBeyondCurve(int degree, double greatestNewtons) => FormattableString.Invariant(
        $"A curve of degree {degree} says nothing beyond its greatest reference force of {greatestNewtons:0.#} N; only a straight line may be carried on.");

    public static string ForceAboveReferences(double greatestNewtons) =>
        FormattableString.Invariant($"Above the greatest reference force of {greatestNewtons:0.#} N: the straight line is carried on.");

    public static string ForceFarAboveReferences(double greatestNewtons) =>
        FormattableString.Invariant($"{ForceExtrapolated}: more than twice the greatest reference force of {greatestNewtons:0.#} N.");
}
