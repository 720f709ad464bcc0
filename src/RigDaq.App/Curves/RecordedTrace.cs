using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Core.Trace;
using RigDaq.Tables.Readings;

namespace RigDaq.App.Curves;

/// <summary>A recorded trace before it is analysed: forces in newtons, or counts.</summary>
internal sealed record RecordedTrace
{
    public RecordedTrace(int samples, bool inCounts, bool hasPosition)
    {
        InCounts = inCounts;
        TimesSeconds = new double[samples];
        Values = new double[samples];
        PositionsMillimetres = hasPosition ? new double[samples] : null;
    }

    /// <summary>A curve of a table that another program wrote.</summary>
    public RecordedTrace(RecordedCurve curve)
    {
        InCounts = curve.InCounts;
        TimesSeconds = curve.TimesSeconds;
        Values = curve.Values;
        PositionsMillimetres = curve.PositionsMillimetres;
    }

    public bool InCounts { get; }

    public double[] TimesSeconds { get; }

    public double[] Values { get; }

    public double[]? PositionsMillimetres { get; }

    /// <summary>How long before its stamp a conversion looked at the force, on average, in seconds.</summary>
    public double ConverterDelaySeconds { get; init; }

    /// <summary>Analyses it.</summary>
    /// <param name="curve">Needed for counts.</param>
    /// <param name="settings">How a break is told.</param>
    /// <param name="compliance">The machine's give, taken off; null where it was not measured.</param>
    /// <exception cref="InputException">It holds counts, and there is no calibration.</exception>
    public AnalysedTrace Analyse(ForceCurve? curve, DetectionSettings settings, MachineCompliance? compliance)
    {
        if (InCounts)
        {
            ForceCurve known = curve ?? throw new InputException(AppText.TraceCountsWithoutCalibration);
            return new CountsTrace(TimesSeconds, Values,
                PositionsMillimetres)
            { ConverterDelaySeconds = ConverterDelaySeconds }.Analyse(known, settings, compliance);
        }

        var trace = new ForceTrace
        {
            TimesSeconds = TimesSeconds,
            ForcesNewtons = Values,
            PositionsMillimetres = PositionsMillimetres,
            ConverterDelaySeconds = ConverterDelaySeconds
        };
        return TraceAnalysis.Analyse(trace, settings, zero: null, compliance);
    }
}
