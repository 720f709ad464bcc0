namespace RigDaq.Core.Text;

/// <content>The record of a calibration as a document: title, facts, tables, how it was computed.</content>
internal static partial class CoreText
{
    public const string DocumentStatement = "This is the rig's own check against the weights named here. It is no accredited verification, and no certificate.";
    public const string DocumentWithoutClass = "Result: no class.";

    public const string DocumentMeaningOfFigures =
        "q is the indication error of the mean by a curve fitted without that step; b the repeatability over the rising series; v the reversibility of one cycle; a the resolution; f0 the zero's return; definitions and limits as in ISO 7500-1 (from memory).";

    public const string DocumentMethodOfUncertainty =
        "The uncertainty of a force is the root sum of squares of its parts (JCGM 100), expanded to 95 % by t at the Welch-Satterthwaite effective degrees of freedom. Standard errors of coefficients hold scatter only; the references' errors, which no residual shows, are in the budget.";

    public const string DocumentCalibration = "calibration";
    public const string DocumentDevice = "device";
    public const string DocumentAccepted = "accepted";
    public const string DocumentValidUntil = "valid until";
    public const string DocumentGreatestReference = "greatest reference force";
    public const string DocumentResidualDeviation = "residual standard deviation";
    public const string DocumentRSquared = "R² about zero";
    public const string DocumentZeroError = "zero error f0";
    public const string DocumentNoise = "noise at rest";
    public const string DocumentSign = "sign";
    public const string DocumentSignTurned = "turned with the person's consent: counts fall as the force rises";
    public const string DocumentFullScale = "cell's full scale";
    public const string DocumentNonLinearity = "cell's non-linearity";
    public const string DocumentNonLinearityAssumed = "not given; 0.05 % of full scale is assumed inside the references, 0.1 % beyond";
    public const string DocumentTemperatureEffect = "temperature effect";
    public const string DocumentNotGiven = "not given";
    public const string DocumentMadeBy = "made by";
    public const string DocumentPlace = "place";
    public const string DocumentCell = "load cell";
    public const string DocumentAmplifier = "amplifier";
    public const string DocumentSampleRate = "sample rate";
    public const string DocumentRoomTemperature = "room temperature";
    public const string DocumentGravity = "local gravity";
    public const string DocumentAir = "density of the air";
    public const string DocumentRemarks = "remarks";

    public const string DocumentCurveTable = "The curve";
    public const string DocumentCoefficientColumn = "coefficient";
    public const string DocumentCoefficientValueColumn = "value (N per count to the power)";
    public const string DocumentStandardErrorColumn = "standard error (scatter alone)";

    public const string DocumentStepTable = "How good it is, by step";
    public const string DocumentStepNote = "A dash marks what was not looked at. q: each step left out of the fit in turn. U: expanded, 95 %.";
    public const string DocumentIndicationColumn = "q (%)";
    public const string DocumentWorstIndicationColumn = "worst q (%)";
    public const string DocumentRepeatabilityColumn = "b (%)";
    public const string DocumentReversibilityColumn = "v (%)";
    public const string DocumentResolutionColumn = "a (%)";
    public const string DocumentCreepColumn = "creep (%)";
    public const string DocumentForceUncertaintyColumn = "U of a force (%)";
    public const string DocumentReferenceUncertaintyColumn = "U of the reference (%)";

    public const string DocumentPartColumn = "part";
    public const string DocumentDistributionColumn = "distribution";
    public const string DocumentFreedomColumn = "degrees of freedom";
    public const string DocumentShareColumn = "share of u² (%)";
    public const string DocumentWithoutTotal = "There is no figure for this force.";

    public const string DocumentWeightTable = "The weights";
    public const string DocumentWeightColumn = "weight";
    public const string DocumentMassColumn = "conventional mass (kg)";
    public const string DocumentMassUncertaintyColumn = "standard uncertainty (mg)";
    public const string DocumentKnownByColumn = "known by";
    public const string DocumentDensityColumn = "density (kg/m³)";
    public const string DocumentKnownByOneself = "own ±";

    public const string DocumentReadingTable = "The readings";
    public const string DocumentReadingNote = "In N, as they are kept: from these rows and the curve above the calculation can be repeated.";
    public const string DocumentSeriesColumn = "series";
    public const string DocumentDirectionColumn = "direction";
    public const string DocumentReadingReferenceColumn = "reference (N)";
    public const string DocumentByColumn = "by";
    public const string DocumentCountsColumn = "counts";
    public const string DocumentResidualColumn = "residual (N)";
    public const string DocumentZeroReading = "zero";
    public const string DocumentRisingReading = "rising";
    public const string DocumentFallingReading = "falling";

    public static string DocumentTitle(string calibration) => $"Calibration record {calibration}";

    public static string DocumentResult(string calibrationClass) => $"Result: {calibrationClass}.";

    public static string DocumentCurve(int degree) =>
        FormattableString.Invariant($"Each series has its own zero. The curve F = a1·d{(degree > 1 ? " + a2·d²" : "")}{(degree > 2 ? " + a3·d³" : "")} was fitted to all rising readings by least squares (QR), d being counts less zero.");

    public static string DocumentValidUntilDay(DateTimeOffset until) => FormattableString.Invariant($"{until:yyyy-MM-dd}, or until an overload or a change of cell or amplifier");

    public static string DocumentGreatestReferenceForce(string force) => $"{force}; beyond it the curve is extrapolated";

    public static string DocumentNoiseCounts(double counts) => FormattableString.Invariant($"{counts:0.#} counts (standard deviation of single samples)");

    public static string DocumentNonLinearityPercent(double percent, bool bestLine) =>
        FormattableString.Invariant($"{percent:0.###} % of full scale, {(bestLine ? "best line (doubled)" : "terminal line")}");

    public static string DocumentTemperaturePercent(double percentPerKelvin, double spreadKelvin) =>
        FormattableString.Invariant($"{percentPerKelvin:0.####} % per kelvin over ±{spreadKelvin:0.#} K");

    public static string DocumentSamplesPerSecond(double rate) => FormattableString.Invariant($"{rate:0.#} a second");

    public static string DocumentGravityValue(double metresPerSecondSquared, double standardUncertainty, string origin) => FormattableString.Invariant(
        $"{metresPerSecondSquared:0.00000} m/s², standard uncertainty {standardUncertainty:0.00000} m/s²; {origin}");

    public static string DocumentAirDensity(double kilogramsPerCubicMetre, double standardUncertainty) => FormattableString.Invariant(
        $"{kilogramsPerCubicMetre:0.000} kg/m³, standard uncertainty {standardUncertainty:0.000} kg/m³");

    public static string DocumentReferenceColumn(string unit) => $"reference ({unit})";

    public static string DocumentBudgetTable(double force, string unit) => FormattableString.Invariant($"Uncertainty of a force of {force:0.#} {unit}");

    public static string DocumentStandardColumn(string unit) => $"u ({unit})";

    public static string DocumentBudgetTotal(string standard, string expanded, string unit, double? coverageFactor, string expandedPercent) =>
        FormattableString.Invariant($"Together u = {standard} {unit}, k = {coverageFactor:0.00} for 95 %: U = {expanded} {unit}, {expandedPercent} %.");

    public static string DocumentKnownByClass(string? weightClass) => $"class {weightClass}";

    public static string DocumentKnownByCertificate(string? certificate) => $"certificate {certificate}";
}
