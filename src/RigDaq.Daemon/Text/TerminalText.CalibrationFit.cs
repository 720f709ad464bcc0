namespace RigDaq.Daemon.Text;

/// <content>A curve fitted to readings: the command, its options, and what it prints.</content>
internal static partial class TerminalText
{
    public const string FitCommand = "Fit a calibration to readings taken at known forces.";
    public const string FitFile = "CSV: series,direction,reference_N,counts.";
    public const string FitDegree = "Degree of the curve, 1 to 3.";
    public const string FitConstant = "Fit a constant too, and take no zeros.";
    public const string FitTurnSign = "Agree that counts fall as the force rises (a cell wired the other way).";
    public const string FitFullScale = "Full scale of the load cell in newtons; its non-linearity is a share of that.";
    public const string FitNonLinearity = "Non-linearity from the cell's data sheet, in per cent of full scale (terminal line).";

    public const string FitBestLine = "The data sheet's non-linearity is of the best straight line: it is doubled.";
    public const string FitTemperatureEffect = "The temperature's effect on the slope, in per cent per kelvin (0.01 is assumed where it is not said).";
    public const string FitTemperatureSpread = "How far the room may be from the temperature of the calibration, in kelvin either way (10 is assumed where it is not said; 0: it does not change).";
    public const string FitAt = "Forces in newtons, with commas between, to give the uncertainty at.";
    public const string FitWay = "Where on its way such a force is read: rising (as a peak is), falling, or unknown.";
    public const string FitAtHead = "Uncertainty at the forces asked for (95 %):";
    public const string FitAtUnknown = "cannot be had";

    public static string FitAtForces(string option, int most) => $"{option}: forces above 0 in newtons with commas between were expected, {most} at most, for example 20,50.5,100.";

    public static string FitAtLine(string force, string expanded, string unit, string percent, double factor) =>
        FormattableString.Invariant($"  {force,13} {unit}    ± {expanded} {unit} ({percent} %), k = {factor:0.00}");

    public static string FitAtPart(string name, string sharePercent) => $"                     {sharePercent,5} %  {name}";

    public const string FitErrorMethod = "  (q: each step left out of the fit in turn)";
    public const string FitWithoutClass = "Result: no class";
    public const string FitNotKnown = "not known";

    public static string FitHead(int degree, bool constant, int readings) =>
        FormattableString.Invariant($"Degree {degree}{(constant ? " with a constant" : "")}, {readings} readings:");

    public static string FitCoefficient(int power, double newtons, double standardError) =>
        FormattableString.Invariant($"  a{power} = {newtons:0.00000000E+00} N per count^{power}, standard error {standardError:0.0E+00} (scatter alone)");

    public static string FitResiduals(string deviation, string unit, double rSquared) =>
        FormattableString.Invariant($"  residual standard deviation {deviation} {unit}, R² {rSquared:0.0000000000}");

    /// <summary>The heads of the table of steps; its columns are as wide as these.</summary>
    public static string FitStepHeads(string unit) =>
        $"  {"reference " + unit,13}    error q %    repeat. b %    revers. v %    resol. a %    expanded uncertainty %";

    public static string FitZeroError(string percent, bool known) => $"  zero error f0 {percent}{(known ? " %" : "")}";

    public static string FitClass(string statement) => $"Result: {statement}";

    public static string FitNote(string note) => $"Note: {note}";
}
