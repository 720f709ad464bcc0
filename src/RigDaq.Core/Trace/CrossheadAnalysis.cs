using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Trace;

/// <summary>What the crosshead's position adds to a reading: extension, initial slope, work.</summary>
internal static class CrossheadAnalysis
{
    // The initial slope is read between these shares of the peak, in per cent.
    private const double SlopeFromPercent = 10;
    private const double SlopeToPercent = 40;
    private const int SlopeSamplesMin = 5;

    // A peak farther beyond the forces that the compliance was measured at is said, as a multiple of the greatest.
    private const double BeyondTimes = 1.1;

    /// <summary>Adds it; the reading comes back unchanged where there is no position or no contact.</summary>
    public static AnalysedTrace Add(AnalysedTrace trace, MachineCompliance? compliance)
    {
        TraceReading reading = trace.Reading;
        if (trace.Positions is not { } positions || trace.Contact < 0 || reading.PeakForceNewtons is not { } peak) return trace;
        if (!Array.TrueForAll(positions, double.IsFinite) || positions[trace.End] == positions[trace.Contact]) return trace;
        double give = compliance?.MillimetresPerNewton ?? 0;
        double[] extensions = new double[trace.Forces.Length];
        double origin = positions[trace.Contact] - (give * trace.Forces[trace.Contact]);
        for (int i = 0; i < extensions.Length; i++) extensions[i] = positions[i] - (give * trace.Forces[i]) - origin;
        int peakAt = At(trace.Times, reading.PeakTimeSeconds!.Value, trace.Contact, trace.End);
        if (compliance is not null && extensions[peakAt] <= 0)
            return Refused(trace, positions[peakAt] - positions[trace.Contact], give * peak);
        double toPeak = Work(extensions, trace.Forces, trace.Contact, peakAt);
        double afterPeak = Work(extensions, trace.Forces, peakAt, trace.End);
        bool separated = reading.BreakForceNewtons is not null;
        BlockedLine? slope = InitialSlope(extensions, trace.Forces, trace.Contact, peakAt, peak);
        if (compliance is { ToNewtons: { } to } && peak > BeyondTimes * to)
            reading = reading with { Warnings = [.. reading.Warnings, CoreText.ComplianceCarriedOn(to, peak)] };

        reading = reading with
        {
            ExtensionAtPeakMillimetres = extensions[peakAt],
            ExtensionAtBreakMillimetres = separated ? extensions[trace.End] : null,
            InitialSlopeNewtonsPerMillimetre = slope?.Slope,
            InitialSlopeStandardUncertaintyNewtonsPerMillimetre = slope is { } line ? Uncertainty(line, compliance) : null,
            ComplianceMillimetresPerNewton = compliance?.MillimetresPerNewton,
            ComplianceId = compliance?.Id,
            WorkToBreakJoules = separated ? toPeak + afterPeak : null,
            WorkAfterPeakJoules = separated ? afterPeak : null,
            ExtensionAfterPeakMillimetres = separated ? extensions[trace.End] - extensions[peakAt] : null,
        };
        if (separated && toPeak + afterPeak > 0)
        {
            // Work over the crosshead's way is better than over time at what is hoped to be an even speed; a tear stays one.
            double share = afterPeak / (toPeak + afterPeak);
            bool tore = reading is { Fracture: FractureManner.Ductile, WorkAfterPeakShare: <= FractureJudgement.DuctileWorkShare };
            reading = reading with
            {
                WorkAfterPeakShare = share,
                Fracture = tore ? FractureManner.Ductile : FractureJudgement.Judge(share, 0)
            };
        }

        return trace with { Reading = reading };
    }

    /// <summary>Trapezium rule, in joules (N·mm/1000).</summary>
    private static double Work(double[] extensions, double[] forces, int from, int to)
    {
        double work = 0;
        for (int i = from + 1; i <= to; i++) work += (forces[i] + forces[i - 1]) / 2 * (extensions[i] - extensions[i - 1]);
        return work / 1000;
    }

    private static AnalysedTrace Refused(AnalysedTrace trace, double wentMillimetres, double givesMillimetres)
    {
        Sentence why = CoreText.ComplianceNotThisMachines(wentMillimetres, givesMillimetres);
        return trace with { Reading = trace.Reading with { Warnings = [.. trace.Reading.Warnings, why] } };
    }

    /// <summary>1/k = 1/k_seen − c, so that u(k)² = (k²·u(c))² + the line's own (JCGM 100, 5.1.2).</summary>
    private static double Uncertainty(BlockedLine line, MachineCompliance? compliance)
    {
        double ofCompliance = line.Slope * line.Slope * (compliance?.StandardUncertaintyMillimetresPerNewton ?? 0);
        return Math.Sqrt((line.SlopeStandardError * line.SlopeStandardError) + (ofCompliance * ofCompliance));
    }

    /// <summary>Force over extension between two shares of the peak; null where an extension is missing, or too little of it.</summary>
    internal static BlockedLine? InitialSlope(double[] extensions, double[] forces, int contact, int peakAt, double peak)
    {
        int from = contact;
        while (from < peakAt && forces[from] < SlopeFromPercent / 100 * peak) from++;
        int to = from;
        while (to < peakAt && forces[to] < SlopeToPercent / 100 * peak) to++;
        if (to - from + 1 < SlopeSamplesMin || !(extensions[to] > extensions[from])) return null;
        if (Array.Exists(extensions[from..(to + 1)], extension => !double.IsFinite(extension))) return null;
        var line = BlockedLine.Of(extensions[from..(to + 1)], forces[from..(to + 1)]);
        return double.IsFinite(line.Slope) ? line : null;
    }

    private static int At(double[] times, double time, int first, int last)
    {
        int at = Array.BinarySearch(times, time);
        if (at < 0) at = ~at;
        return Math.Clamp(at, first, last);
    }
}
