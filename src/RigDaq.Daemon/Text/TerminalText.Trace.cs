namespace RigDaq.Daemon.Text;

/// <content>Recorded traces: the command, what was read from them, and what is wrong with a file.</content>
internal static partial class TerminalText
{
    public const string TraceCommand = "Analyses recorded traces.";
    public const string TraceFiles = "Tables with a force and a time or a position: CSV with time_s and force_N or counts, or what other programs write (text, .xlsx, .xls).";
    public const string TraceCalibration = "What `rigdaq calibration fit --json` printed; needed for traces in counts.";
    public const string TraceRemaining = "A fall below this share of the running maximum is a break, in per cent.";
    public const string TracePreload = "The preload in newtons; contact is the greater of it and 10 × noise.";
    public const string TraceFallTime = "The longest fall from 1.5 × remaining to remaining that is still a break, in seconds.";
    public const string TraceDelay = "How long before its stamp a conversion looked at the force, on average, in seconds: half of the time that it averages over.";
    public const string TraceCompliance = "The machine's give, taken off extension, slope and work: what `rigdaq compliance fit --json` printed.";
    public const string TracePictures = "Draws each trace with what was read from it into this folder, as SVG.";

    public const string TraceRemainingRange = "--remaining takes 1 to 99 per cent.";
    public const string TracePreloadRange = "--preload takes 0 N or more.";
    public const string TraceFallTimeRange = "--fall takes more than 0 and at most 60 s.";

    public const string TraceDelayRange = "--delay takes 0 to 1 s.";
    public const string TraceCoefficientsList = "key coefficients: a list of numbers was expected.";
    public const string TraceCoefficientsNumbers = "key coefficients: not a number in the list.";
    public const string TraceDegree = "key degree: 1, 2 or 3 was expected.";
    public const string TraceFittedWithConstant = "it was fitted with --constant; a trace needs a calibration without one, because the zero is taken from the trace.";
    public const string TraceFirstCoefficientZero = "key coefficients: the first one, in N per count, must not be 0.";
    public const string TraceNoPeak = "There is no peak and nothing that is read from one: the force never rose above contact for three samples.";
    public const string TraceGiveNotTakenOff = "the machine's own give is in it";

    public static string TraceForceAndCounts(string forceColumn, string countsColumn) => $"the header names both {forceColumn} and {countsColumn}; one of them was expected.";

    public static string TraceNoForce(string forceColumn, string countsColumn) => $"the header lacks a column {forceColumn} or {countsColumn}.";

    public static string TraceCoefficientsNotDegree(int coefficients, int degree) => $"key coefficients: {coefficients} of them do not make degree {degree}.";

    public static string TraceTimeFalls(string time) => $"{time} lies before the time in the row above; times must rise.";

    public static string TraceHead(string file, string ending, string? fracture) => $"{file}: {ending}{(fracture is null ? "" : ", " + fracture)}";

    public static string TracePeak(string force, string unsure, double? seconds, string raw) => FormattableString.Invariant($"  peak force {force}{unsure} at {seconds:F3} s{raw}");

    public static string TracePeakUncertainty(string expanded, string standard) => $" ± {expanded} (standard uncertainty {standard})";

    public static string TracePeakRaw(string force) => $"; greatest sample {force}";

    public static string TraceBreak(string force, double? seconds) => FormattableString.Invariant($"  force at break {force} at {seconds:F3} s");

    public static string TraceLoadingRate(string rate, double? samplesPerSecond, string underRead) => FormattableString.Invariant($"  loading rate at the peak {rate}, {samplesPerSecond:G5} samples/s{underRead}");

    public static string TraceUnderRead(string force) => $", possible under-read {force}";

    public static string TraceSlope(string slope, string unsure) => $"  initial slope {slope} ({unsure}of the crosshead, not a modulus)";

    public static string TraceSlopeUncertainty(string standardUncertainty) => $"standard uncertainty {standardUncertainty}; ";

    public static string TraceExtension(string extension, string give) => $"  extension at peak {extension} ({give})";

    public static string TraceGiveTakenOff(string give) => $"the machine's give of {give} taken off";

    public static string TraceWork(double toBreakJoules, double? afterPeakJoules) => FormattableString.Invariant($"  work to break {toBreakJoules:G3} J, after the peak {afterPeakJoules:G3} J");

    public static string TraceNoise(string noise, string zero) => $"  noise {noise}{zero}";

    public static string TraceZero(string force) => $", zero {force}";

    public static string TraceLoadDrop(string depth, double seconds) => FormattableString.Invariant($"  load drop of {depth} at {seconds:F3} s");

    public static string TraceSpikes(int removed) => FormattableString.Invariant($"  {removed} spikes left out");

    public static string TraceNote(string warning) => $"  note: {warning}";

    public static string TracePicture(string file) => $"  picture: {file}";
}
