using RigDaq.Core.Quantities;
using RigDaq.Core.Trace;

namespace RigDaq.Reports.Text;

/// <summary>What extensions hold of the machine itself.</summary>
internal static partial class ReportText
{
    public const string MachinesGive = "the machine's own give";

    /// <summary>Of the readings that have an extension; null where none has.</summary>
    public static string? ComplianceInWords(IEnumerable<TraceReading> readings, Units units)
    {
        TraceReading[] extended = [.. readings.Where(reading => reading.ExtensionAtPeakMillimetres is not null)];
        if (extended.Length == 0) return null;
        string[] taken = [.. extended.Where(reading => reading.ComplianceMillimetresPerNewton is not null)
            .Select(reading => $"{units.Give.Text(1000 * reading.ComplianceMillimetresPerNewton!.Value, 3)}, measured with a stiff bar, taken off"
                + (reading.ComplianceId is { } id ? $" (compliance {id})" : "")).Distinct()];
        int without = extended.Count(reading => reading.ComplianceMillimetresPerNewton is null);
        string left = without == 0 ? "" : taken.Length == 0 ? "in all extensions: it was not measured" : $"in {without} runs' extensions: not measured then";
        return string.Join("; ", taken.Append(left).Where(words => words.Length > 0));
    }
}
