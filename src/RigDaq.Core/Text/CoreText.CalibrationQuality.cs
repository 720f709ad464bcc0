namespace RigDaq.Core.Text;

/// <content>How good a calibration is: what the readings cannot carry, what is not known of them, the class, whether a curve is worth having.</content>
internal static partial class CoreText
{
    public const string CalibrationDegreeNotPossible = "the degree is 1, 2 or 3.";
    public const string CalibrationWithoutRisingReading = "there is no rising reading at a force above 0.";

    public const string CalibrationCountsFall =
        "counts fall as the force rises: the cell is wired or mounted the other way. Swap its signal wires, or agree that the sign is turned.";

    public const string CalibrationOfTwoSeries = "Two rising series: repeatability is known poorly; three are usual.";
    public const string CalibrationZeroErrorOfConstant = "The zero error is not known: where a constant is fitted, no zeros are taken.";
    public const string CalibrationZeroErrorUnknown = "The zero error is not known: no series has a zero after unloading.";
    public const string CalibrationRepeatabilityUnknown = "The repeatability is not known: there is one rising series.";
    public const string CalibrationReversibilityUnknown = "The reversibility is not known: there is no falling series.";
    public const string CalibrationIndicationErrorUnknown = "The indication error is not known: without a step the others cannot carry the degree.";

    public const string ClassOwnCheck = "the rig's own check, no accredited verification";
    public const string ClassNearLimit = "; within the guard band of its limit";
    public const string ClassOfExactReferences = "The class takes the references as exact: their uncertainty was not given.";
    public const string ClassNotReached = "No class: the figures lie beyond the limits of class 3 somewhere from 20 to 100 % of the greatest force.";

    public const string SecondDegreeWithoutScatter = "Whether a curve of degree 2 is worth having cannot be told: the readings leave no scatter to judge by.";
    public const string SecondDegreeOfEqualReadings = "Whether a curve of degree 2 is worth having cannot be told: the readings repeat exactly.";

    public static string CalibrationOfOneCountResolution(double incrementCounts) => FormattableString.Invariant(
        $"The resolution is {(incrementCounts > 1 ? $"the converter's step of {incrementCounts:0} counts" : "one count")}: the fluctuation of the unloaded reading with the drives on was not given.");

    public static string CalibrationOfCoarseSteps(double incrementCounts) => FormattableString.Invariant(
        $"The converter's counts come in steps of {incrementCounts:0}: that is taken for its increment.");

    public const string StraightLineOverBend =
        "The readings speak for a curve of degree 2, and a straight line was fitted: what it leaves of the cell's bend is in the uncertainty. Fit degree 2 to have it smaller.";

    public static string WithinGuardBand(double referenceNewtons, double errorPercent, double limitPercent, double expandedPercent, double value) => FormattableString.Invariant(
        $"At {referenceNewtons:0.##} N the indication error of {errorPercent:0.###} % lies within its own uncertainty of {expandedPercent:0.###} % of the limit {limitPercent:0.##} %: class {value} is given, and other weights might not give it (guard band, JCGM 106).");

    public static string EnterTemperature(string assumed) => assumed + " Enter what the room and the cell do";

    public static string ReadZeroAfterwards(string assumed) => assumed + " Read the zero after unloading";

    public static string EnterNonLinearity(string assumed) => assumed + " Enter that of its data sheet";

    public static string AssumptionGain(string advice, double forceNewtons, double percent, double percentWithout) => FormattableString.Invariant(
        $"{advice}: the uncertainty at {forceNewtons:0.#} N could fall from {percent:0.###} % to {percentWithout:0.###} % at best.");

    public static string CalibrationOfTooFewForces(int degree, bool constant, int coefficients, int forcesMin, int forces) =>
        $"degree {degree}{(constant ? " with a constant" : "")} has {coefficients} coefficient{(coefficients > 1 ? "s" : "")} and needs {forcesMin} distinct reference forces; "
        + $"there {(forces == 1 ? "is 1" : $"are {forces}")}. Take more steps{(degree > 1 ? " or a lower degree" : "")}.";

    public static string CalibrationCurveTurnsBack(int degree) =>
        $"the fitted curve of degree {degree} turns back within its range: look for a reading that was mixed up, or take a lower degree.";

    public static string CalibrationReversibilityUnknownAt(IEnumerable<double> forcesNewtons) =>
        $"The reversibility is not known at {string.Join(", ", forcesNewtons.Select(force => FormattableString.Invariant($"{force:0.##} N")))}: no falling reading with a rising one of the same series.";

    public static string ClassInWords(double value, double fromNewtons, double toNewtons, bool withinGuardBand) =>
        FormattableString.Invariant($"class {value} from {fromNewtons:0.#} N to {toNewtons:0.#} N ({ClassQualified(withinGuardBand)})");

    /// <summary>What goes with every class.</summary>
    public static string ClassQualified(bool withinGuardBand) => withinGuardBand ? ClassOwnCheck + ClassNearLimit : ClassOwnCheck;

    public static string ClassOfTooFewSteps(int steps, int stepsMin) => $"No class: {steps} steps from 20 to 100 % of the greatest force, at least {stepsMin} are needed.";

    public static string ClassOfCoarseReference(double referenceNewtons, double? expandedPercent) => FormattableString.Invariant(
        $"No class: the reference at {referenceNewtons:0.##} N is uncertain by {expandedPercent:0.###} % (k = 2), more than 0.1 %.");

    public static string ClassOfOneSeries(double referenceNewtons) => FormattableString.Invariant(
        $"No class: {referenceNewtons:0.##} N was read in one rising series, which tells no repeatability. Take at least two series (three by default).");

    public static string SecondDegreeOfTooFewSteps(int steps) => $"Whether a curve of degree 2 is worth having cannot be told from {steps} steps; four are needed.";

    public static string SecondDegreeWorthHaving(double changePercent, double p) =>
        FormattableString.Invariant($"A curve of degree 2 is worth having over a straight line: it changes the force at the steps by up to {changePercent:0.###} %, more than the references and the scatter explain (p {(p < 1e-4 ? "< 0.0001" : FormattableString.Invariant($"= {p:0.####}"))}).");

    public static string StraightLineEnough(double changePercent, double p) =>
        FormattableString.Invariant($"A straight line is enough: degree 2 would change the force at the steps by at most {changePercent:0.###} %, which the references and the scatter explain (p = {p:0.##}).");
}
