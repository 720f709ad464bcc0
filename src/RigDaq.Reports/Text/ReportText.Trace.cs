using System.Globalization;
using RigDaq.Core.Strength;

namespace RigDaq.Reports.Text;

/// <summary>The words on the picture of one trace.</summary>
internal static partial class ReportText
{
    public const string TraceTimeAxis = "time in s";
    public const string ContactMark = "contact";

    public static string TraceTitle(string name, string ending) => $"{name}: {ending}";

    public static string TraceDescription(string name, TraceReading reading) => string.Create(CultureInfo.InvariantCulture,
        $"Force against time of {name}, which ended {reading.Ending.Word()}"
        + $"{(reading.PeakForceNewtons is { } peak ? string.Create(CultureInfo.InvariantCulture, $", with its peak of {peak:F1} N marked") : "")}.");

    public static string PeakMark(double newtons) => string.Create(CultureInfo.InvariantCulture, $"peak {newtons:F1} N");

    public static string BreakMark(double newtons) => string.Create(CultureInfo.InvariantCulture, $"force at break {newtons:F1} N");

    public static string DropMark(int count) => count == 1 ? "load drop" : $"{count} load drops";

    public static string SpikeMark(int count) => count == 1 ? "spike, left out" : $"{count} spikes, left out";
}
