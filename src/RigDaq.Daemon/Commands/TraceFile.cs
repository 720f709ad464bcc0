using System.Text.Json;
using RigDaq.Core.Calibration;
using RigDaq.Core.Signal;
using RigDaq.Core.Strength;
using RigDaq.Daemon.Input;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>Reads recorded traces and the calibration that goes with them.</summary>
internal static class TraceFile
{
    private const string Time = "time_s";
    private const string Force = "force_N";
    private const string Counts = "counts";
    private const string Position = "position_mm";

    // A calibration answer is a few kilobytes.
    private const long CalibrationBytesMax = 1 << 20;
    private const string PrintedBy = "rigdaq calibration fit --json";

    /// <summary>Reads and analyses one trace.</summary>
    /// <param name="file">A CSV file: time_s with force_N or counts, optionally position_mm.</param>
    /// <param name="curve">Needed where the file holds counts.</param>
    /// <param name="settings">How a break is told.</param>
    /// <param name="compliance">The machine's give, taken off; null where it was not measured.</param>
    /// <exception cref="InputException">The file is not such a table.</exception>
    public static AnalysedTrace Analyse(string file, ForceCurve? curve, DetectionSettings settings, MachineCompliance? compliance = null)
    {
        CsvTable table = CsvTable.Read(file, Time);
        bool inCounts = table.Has(Counts);
        if (inCounts == table.Has(Force))
        {
            throw InputException.In(file, inCounts
                ? TerminalText.TraceForceAndCounts(Force, Counts)
                : TerminalText.TraceNoForce(Force, Counts));
        }

        if (inCounts && curve is null)
            throw InputException.In(file, TerminalText.TraceCountsWithoutCalibration);
        double[] times = Times(table);
        double[] values = [.. table.Rows.Select(row => row.Number(inCounts ? Counts : Force))];
        double[]? positions = table.Has(Position) ? [.. table.Rows.Select(row => row.Number(Position))] : null;
        return inCounts
            ? new CountsTrace(times, values, positions).Analyse(curve!, settings, compliance)
            : TraceAnalysis.Analyse(new ForceTrace { TimesSeconds = times, ForcesNewtons = values, PositionsMillimetres = positions }, settings, zero: null, compliance);
    }

    /// <summary>Reads the answer of <c>rigdaq calibration fit --json</c>.</summary>
    /// <exception cref="InputException">It is no such answer, or was fitted with a constant.</exception>
    public static ForceCurve Calibration(string file)
    {
        if (!File.Exists(file)) throw InputException.In(file, TerminalText.InputNoSuchFile);
        if (new FileInfo(file).Length > CalibrationBytesMax) throw InputException.In(file, TerminalText.InputTooLongForAnswer(PrintedBy));
        try
        {
            using JsonDocument document = JsonDocument.Parse(File.ReadAllText(file));
            JsonElement root = document.RootElement;
            if (root.ValueKind != JsonValueKind.Object || !root.TryGetProperty("coefficients", out JsonElement list) || list.ValueKind != JsonValueKind.Array)
                throw InputException.In(file, TerminalText.TraceCoefficientsList);
            double[] coefficients = [.. list.EnumerateArray().Select(item =>
                item.ValueKind == JsonValueKind.Number ? item.GetDouble() : throw InputException.In(file, TerminalText.TraceCoefficientsNumbers))];
            if (!root.TryGetProperty("degree", out JsonElement given) || given.ValueKind != JsonValueKind.Number || !given.TryGetInt32(out int degree))
                throw InputException.In(file, TerminalText.TraceDegree);
            if (coefficients.Length == degree + 1)
                throw InputException.In(file, TerminalText.TraceFittedWithConstant);
            if (coefficients.Length != degree || degree is < 1 or > 3)
                throw InputException.In(file, TerminalText.TraceCoefficientsNotDegree(coefficients.Length, degree));
            if (!coefficients.All(double.IsFinite) || coefficients[0] == 0)
                throw InputException.In(file, TerminalText.TraceFirstCoefficientZero);
            return new ForceCurve(coefficients);
        }
        catch (JsonException fault)
        {
            throw new InputException(TerminalText.InputNotJson(file, (fault.LineNumber ?? 0) + 1, PrintedBy), fault);
        }
    }

    private static double[] Times(CsvTable table)
    {
        var times = new double[table.Rows.Count];
        for (int i = 0; i < times.Length; i++)
        {
            times[i] = table.Rows[i].Number(Time);
            if (i > 0 && times[i] < times[i - 1])
                throw table.Rows[i].Fault(Time, TerminalText.TraceTimeFalls(table.Rows[i].Text(Time)));
        }

        return times;
    }
}
