using RigDaq.Core.Text;

namespace RigDaq.Core.Trace;

/// <summary>Brittle or ductile, from numbers.</summary>
public static class FractureJudgement
{
    /// <summary>More work after the peak than this share of all work to the break is ductile (ours; ISO 527-1 tells the kinds of curve by
    /// their shape and gives no number).</summary>
    public const double DuctileWorkShare = 0.05;

    /// <summary>A fall from 1.5 × remaining to remaining that takes longer than this is a tear, in seconds (ours).</summary>
    public const double TearSeconds = 0.05;

    /// <summary>Adds the figures and the judgement to the reading of a trace that broke.</summary>
    internal static AnalysedTrace Add(AnalysedTrace trace, Fall fall)
    {
        TraceReading reading = trace.Reading;
        if (reading.BreakTimeSeconds is null || reading.PeakTimeSeconds is not { } peakTime) return trace;
        double[] times = trace.Times;
        double[] forces = trace.Forces;
        double apart = times[fall.Crossing] - times[fall.Start];
        double toPeak = 0, afterPeak = 0;
        for (int i = trace.Contact + 1; i <= fall.Start; i++)
        {
            double area = (forces[i] + forces[i - 1]) / 2 * (times[i] - times[i - 1]);
            if (times[i] <= peakTime) toPeak += area;
            else afterPeak += area;
        }

        double? share = toPeak + afterPeak > 0 ? afterPeak / (toPeak + afterPeak) : null;
        return trace with
        {
            Reading = reading with
            {
                FallRateNewtonsPerSecond = apart > 0 ? (forces[fall.Start] - forces[fall.Crossing]) / apart : null,
                WorkAfterPeakShare = share,
                Fracture = Judge(share, fall.Seconds),
            },
        };
    }

    /// <summary>The judgement.</summary>
    /// <param name="workAfterPeakShare">0 to 1; null where it is not known.</param>
    /// <param name="fallSeconds">From 1.5 × remaining to remaining.</param>
    public static FractureManner? Judge(double? workAfterPeakShare, double fallSeconds) =>
        fallSeconds > TearSeconds ? FractureManner.Ductile
        : workAfterPeakShare is not { } share ? null
        : share > DuctileWorkShare ? FractureManner.Ductile : FractureManner.Brittle;

    /// <summary>What a person reads.</summary>
    public static string Spoken(this FractureManner manner) =>
        manner == FractureManner.Brittle ? CoreText.FractureBrittle : CoreText.FractureDuctile;

    /// <summary>The word by which files and messages know it.</summary>
    public static string Word(this FractureManner manner) => manner == FractureManner.Brittle ? "brittle" : "ductile";
}
