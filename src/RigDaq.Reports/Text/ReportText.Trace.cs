using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Trace;
using RigDaq.Core.Uncertainty;

namespace RigDaq.Reports.Text;

/// <summary>The words on the picture of one trace.</summary>
internal static partial class ReportText
{
    public const string TraceTimeAxis = "time in s";
    public const string ContactMark = "contact";

    public static string TraceTitle(string name, string ending) => $"{name}: {ending}";

    public static string TraceDescription(string name, TraceReading reading, Units units)
    {
        string peak = reading.PeakForceNewtons is { } newtons ? $", with its peak of {Peak(newtons, reading, units)} marked" : "";
        return $"Force against time of {name}, which ended {reading.Ending.Spoken()}{peak}.";
    }

    public static string PeakMark(double newtons, TraceReading reading, Units units) => $"peak {Peak(newtons, reading, units)}";

    public static string BreakMark(double newtons, Units units) => $"force at break {units.Force.Text(newtons, 1)}";

    private static string Peak(double newtons, TraceReading reading, Units units) =>
        units.Force.Text(newtons, PeakForceUncertainty.ExpandedNewtons(reading), 1);

    public static string DropMark(int count) => count == 1 ? "load drop" : $"{count} load drops";

    public static string SpikeMark(int count) => count == 1 ? "spike, left out" : $"{count} spikes, left out";
}
