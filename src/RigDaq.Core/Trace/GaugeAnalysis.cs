using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;

namespace RigDaq.Core.Trace;

/// <summary>What an extensometer on the specimen adds to a reading: how far its gauge length has stretched, and force over that. Machine
/// and grips give nothing to it, so nothing is taken off.</summary>
/// <param name="Channel">Which channel of the pull.</param>
/// <param name="ExtensionAtPeakMillimetres">Of the gauge length from contact to the peak; null where the extensometer had no value
/// there.</param>
/// <param name="ExtensionAtBreakMillimetres">To the last sample before the fall that separates.</param>
/// <param name="InitialSlopeNewtonsPerMillimetre">Force over the gauge's extension between 10 and 40 % of the peak, by least squares: the
/// same stretch that the crosshead's slope is read over (our own choice, no source). A modulus is this times the gauge length over the
/// section, where the gauge length is known.</param>
/// <param name="InitialSlopeStandardUncertaintyNewtonsPerMillimetre">From the line's scatter alone; the extensometer's own error is not in
/// it.</param>
public sealed record GaugeReading(int Channel, double? ExtensionAtPeakMillimetres, double? ExtensionAtBreakMillimetres,
    double? InitialSlopeNewtonsPerMillimetre, double? InitialSlopeStandardUncertaintyNewtonsPerMillimetre);

/// <summary>Reads a pull's extensometer.</summary>
internal static class GaugeAnalysis
{
    /// <summary>The reading of the first extension channel that has values from contact on; null where there is none.</summary>
    public static GaugeReading? Of(AnalysedTrace trace, PullRecord pull)
    {
        TraceReading reading = trace.Reading;
        if (trace.Contact < 0 || reading.PeakForceNewtons is not { } peak || reading.PeakTimeSeconds is not { } peakTime) return null;
        if (ChannelCurve.Of(pull).FirstOrDefault(curve => curve.Head.Kind == ChannelHead.Extension) is not { } curve) return null;
        double[] extensions = Extensions(trace, curve, pull.Trace.ConverterDelaySeconds);
        int peakAt = Math.Clamp(Array.FindIndex(trace.Times, time => time >= peakTime), trace.Contact, trace.End);
        double? AtSample(int i) => double.IsFinite(extensions[i]) ? extensions[i] : null;
        BlockedLine? slope = CrossheadAnalysis.InitialSlope(extensions, trace.Forces, trace.Contact, peakAt, peak);
        return new GaugeReading(curve.Head.Index, AtSample(peakAt), reading.BreakForceNewtons is null ? null : AtSample(trace.End),
            slope?.Slope, slope?.SlopeStandardError);
    }

    /// <summary>The gauge's extension at each sample of a trace, from contact on counted from there; NaN where there is none. What force
    /// and extension looked at is of the same moment: each has its own delay taken off.</summary>
    public static double[] Extensions(AnalysedTrace trace, ChannelCurve curve, double converterDelaySeconds)
    {
        double[] extensions = [.. trace.Times.Select(time => curve.At(time - converterDelaySeconds))];
        // A hand may put the extensometer on after contact: its first value then stands for nothing.
        int first = Array.FindIndex(extensions, Math.Max(trace.Contact, 0), double.IsFinite);
        double origin = first < 0 ? 0 : extensions[first];
        for (int i = 0; i < extensions.Length; i++) extensions[i] -= origin;
        return extensions;
    }
}
