namespace RigDaq.Core.Text;

/// <content>What a person should look at in a trace: its samples, its peak, its fall, its crosshead, its stamps.</content>
internal static partial class CoreText
{
    public const string TimesUneven = "The times keep no steady step: lost samples cannot be counted and rates are rough.";
    public const string TraceUnloaded = "The force went down while the crosshead went back: unloaded, not broken.";
    public const string TraceRelaxed = "The force went down while the crosshead stood: relaxed at a held position, not broken.";
    public const string RemnantClimbed = "After the main break what was left took load again: the ending goes by what is left at last.";
    public const string TraceBeyondComputing = "Some figures are beyond what can be computed: look at the values of the trace.";
    public const string PeakFlat = "The force stood exactly still at its greatest value: converter or cell at its end; the true peak was higher.";

    public const string RemainingNotPossible = "1 to 99 per cent are possible.";
    public const string PreloadNotPossible = "A preload is 0 N or more.";
    public const string SecondsNotPossible = "Above 0 and up to 60 s are possible.";

    public static string SamplesWithoutNumber(int samples) => $"{samples} samples had no number for a time or a force and count as lost.";

    public static string SamplesLost(long samples) => $"{samples} samples were lost.";

    public const string ZeroOnRamp = "No zero: the recording begins on the ramp. Forces are as given.";

    public static string ZeroSlopes(double newtons, double seconds) =>
        $"No zero: the first {seconds:G2} s change by {newtons:G3} N, so they are no still stretch. Forces are as given.";

    public static string ZeroUnderLoad(double newtons, double lastNewtons) =>
        $"No zero: the recording begins at {newtons:G4} N and ends at {lastNewtons:G4} N, so it began under load. Forces are as given.";

    public static string NoZeroBeforeContact(int samplesMin) => $"No zero: fewer than {samplesMin} samples lie before contact. Forces are as given.";

    /// <summary>Too few samples for a pull.</summary>
    /// <param name="above">Above contact.</param>
    /// <param name="contactNewtons">Where contact lies; null where there is no zero to tell it from.</param>
    public static string FewSamplesAboveContact(int above, double? contactNewtons) =>
        $"Only {(above == 1 ? "1 sample lies" : $"{above} samples lie")} above contact{(contactNewtons is { } newtons ? $" ({newtons:G3} N)" : "")}: unresolved, or a spike.";

    public static string ZeroDrifted(double newtons, double seconds) =>
        $"The zero went by {newtons:G3} N in {seconds:F0} s, from before the pull to after the break: forces are above a line through both.";

    public static string ZeroSlopedBefore(double newtonsPerSecond, double newtons) =>
        $"The zero went by {newtonsPerSecond:G2} N a second before the pull, and nothing shows it after: the peak may be off by up to "
            + $"{Math.Abs(newtons):G2} N.";

    public static string RecordingStopsInFall(double leftPercent) =>
        $"The recording stops in the fall or right after it: what is left ({leftPercent:F0} % of the greatest force) is read from its last samples.";

    public static string TraceEndsLow(double leftPercent) =>
        $"The recording stops at {leftPercent:F0} % of the greatest force, lost slowly: whether it went on to break is not in it.";

    public static string PartOfLoadLost(double lostPercent, double leftPercent) =>
        $"{lostPercent:F0} % of the greatest force was lost suddenly and never came back; {leftPercent:F0} % is borne at last. More than the limit "
            + "for a break, so look at the piece.";

    public static string BrokeInSteps(int steps) => $"It lost its load in {steps} sudden steps: the first main one is the break.";

    public static string TooSlowToTimeFall(double samplesPerSecond, double seconds) =>
        $"At {samplesPerSecond:G2} samples/s it cannot be told whether it broke at once or within {seconds:G2} s.";

    public static string PeakUncertain(double standardNewtons) =>
        $"The peak is known only to a standard uncertainty of {standardNewtons:G2} N, as much as it is itself, or nearly: too few samples show it.";

    public static string ConversionsRepeated(double valuesPerSecond) =>
        $"Each conversion was read several times: the converter gives {valuesPerSecond:G4} values/s.";

    public static string PartedAfterDrawing(double newtons) =>
        $"It drew slowly, then parted suddenly at {newtons:G4} N: by the rule it slipped out, but a specimen that drew and broke looks alike. "
            + "Look at the fracture.";

    /// <summary>The peak can have been missed.</summary>
    /// <param name="newtons">By how much.</param>
    /// <param name="percent">The same in per cent of the peak.</param>
    /// <param name="factor">How many times slower, or more often, would do.</param>
    /// <param name="samplesPerSecond">The sample rate that would do; null where the present one is not known.</param>
    /// <param name="percentMax">What it would be below then.</param>
    public static string PeakUnderRead(double newtons, double percent, double factor, double? samplesPerSecond, double percentMax)
    {
        string rate = samplesPerSecond is { } known ? $"{known:F0} samples/s or more" : "a higher sample rate";
        return $"Between two samples the peak can have been up to {newtons:G3} N ({percent:F1} %) higher: "
            + $"{rate}, or {factor:F1} times slower, would bring that below {percentMax} %.";
    }

    public static string DroppedBeforePeak(double percent) => $"The force dropped by {percent:F0} % before the peak and came back: have a look.";

    public static string FellSlowly(double fromSeconds, double newtons) =>
        $"From {fromSeconds:F2} s the force fell slowly by {newtons:G3} N and rose again: a yielding specimen, or one that slid.";

    public static string SamplesStuck(int samples) => $"{samples} samples in a row had the same value: the converter repeated itself or stood still.";

    public static string SamplesLostInFall(double milliseconds) =>
        $"Samples were lost in the fall: the force at break is {milliseconds:F0} ms older than the first one below.";

    public static string ForceBelowZeroAfterBreak(double newtonsBelow) =>
        $"After the break the force lay {newtonsBelow:G3} N below the zero: the specimen was under tension when it was taken.";

    public static string ZeroShifted(double newtons, double percentMax, double greatestNewtons) =>
        $"The zero shifted by {newtons:G3} N over the pull, more than {percentMax} % of the greatest calibrated force ({greatestNewtons:G4} N).";

    public static string StampsUncertain(double milliseconds, double ratePercent) => FormattableString.Invariant(
        $"Stamps are known to {milliseconds:G2} ms only: the loading rate is uncertain by {ratePercent:F0} % (standard uncertainty).");

    public static string ReadingsSkippedAtPeak(double milliseconds) => FormattableString.Invariant(
        $"The device skipped readings at the peak: stamps made here were up to {milliseconds:F0} ms early, and rate and peak are the less certain for it.");

    public static string ComplianceCarriedOn(double toNewtons, double peakNewtons) => FormattableString.Invariant(
        $"The machine's give was measured up to {toNewtons:G4} N; at the peak of {peakNewtons:G4} N its line is carried on.");

    public static string ComplianceNotThisMachines(double wentMillimetres, double givesMillimetres) => FormattableString.Invariant(
        $"The crosshead went {wentMillimetres:G3} mm to the peak, the machine alone would give {givesMillimetres:G3} mm: the compliance is not this machine's, or the position is not this crosshead's. No extension is given.");
}
