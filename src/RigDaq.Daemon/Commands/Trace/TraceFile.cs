using System.Text;
using System.Text.Json;
using RigDaq.App.Curves;
using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Core.Trace;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>Reads recorded traces and the calibration that goes with them.</summary>
internal static class TraceFile
{
    private const string Time = "time_s";
    private const string Force = "force_N";
    private const string Counts = "counts";
    private const string Position = "position_mm";

    // Remarks before the header stand within so many characters.
    private const int HeaderLengthMax = 1 << 16;

    // A calibration answer is a few kilobytes.
    private const long CalibrationBytesMax = 1 << 20;
    private const string PrintedBy = "rigdaq calibration fit --json";

    /// <summary>Reads and analyses one trace in our own layout; all faults of the file are told at once.</summary>
    /// <param name="file">A CSV file: time_s with force_N or counts, optionally position_mm.</param>
    /// <param name="curve">Needed where the file holds counts.</param>
    /// <param name="settings">How a break is told.</param>
    /// <param name="compliance">The machine's give, taken off; null where it was not measured.</param>
    /// <param name="delaySeconds">How long before its stamp a conversion looked at the force.</param>
    /// <exception cref="InputException">The file is not such a table.</exception>
    public static AnalysedTrace Analyse(string file, ForceCurve? curve, DetectionSettings settings, MachineCompliance? compliance = null,
        double delaySeconds = 0)
    {
        var faults = new InputFaults();
        CsvTable table = CsvTable.Read(file, faults, Time);
        bool inCounts = table.Has(Counts);
        if (inCounts == table.Has(Force))
        {
            throw InputException.In(file,
                inCounts ? TerminalText.TraceForceAndCounts(Force, Counts) : TerminalText.TraceNoForce(Force, Counts));
        }

        if (inCounts && curve is null) throw InputException.In(file, AppText.TraceCountsWithoutCalibration);
        string valueColumn = inCounts ? Counts : Force;
        bool hasPosition = table.Has(Position);
        var trace = new RecordedTrace(table.Rows.Count, inCounts, hasPosition) { ConverterDelaySeconds = delaySeconds };
        for (int i = 0; i < table.Rows.Count; i++)
        {
            CsvRow row = table.Rows[i];
            trace.TimesSeconds[i] = faults.Read(row, Time);
            trace.Values[i] = faults.Read(row, valueColumn);
            if (hasPosition) trace.PositionsMillimetres![i] = faults.Read(row, Position);
            if (i > 0 && trace.TimesSeconds[i] < trace.TimesSeconds[i - 1])
                faults.Add(row.Fault(Time, TerminalText.TraceTimeFalls(row.Text(Time))));
        }

        faults.ThrowIfAny();
        return trace.Analyse(curve, settings, compliance);
    }

    /// <summary>Whether a file has this layout: its first line, remarks aside, names time_s and force_N or counts.</summary>
    /// <exception cref="InputException">There is no such file, or it cannot be opened.</exception>
    public static bool IsOurs(string file)
    {
        if (Directory.Exists(file)) throw InputException.In(file, AppText.InputIsFolder);
        if (!File.Exists(file)) throw InputException.In(file, AppText.InputNoSuchFile);
        try
        {
            using var reader = new StreamReader(file, new UTF8Encoding(false, true), detectEncodingFromByteOrderMarks: true);
            var line = new char[HeaderLengthMax];
            ReadOnlySpan<char> begins = line.AsSpan(0, reader.ReadBlock(line));
            foreach (Range range in begins.SplitAny('\n', '\r'))
            {
                ReadOnlySpan<char> one = begins[range].Trim();
                if (one.IsEmpty || one[0] == '#') continue;
                string[] names = [.. one.ToString().Split(',').Select(name => name.Trim().Trim('"'))];
                return names.Contains(Time) && (names.Contains(Force) || names.Contains(Counts));
            }

            return false;
        }
        catch (DecoderFallbackException)
        {
            return false;
        }
        catch (UnauthorizedAccessException fault)
        {
            throw new InputException(AppText.InputNoPermission(file), fault);
        }
    }

    /// <summary>Reads the answer of <c>rigdaq calibration fit --json</c>.</summary>
    /// <exception cref="InputException">It is no such answer, or was fitted with a constant.</exception>
    public static ForceCurve Calibration(string file)
    {
        if (!File.Exists(file)) throw InputException.In(file, AppText.InputNoSuchFile);
        try
        {
            using JsonDocument document =
                JsonDocument.Parse(BoundedFile.ReadText(file, CalibrationBytesMax, TerminalText.InputTooLongForAnswer(PrintedBy)));
            JsonElement root = document.RootElement;
            if (root.ValueKind != JsonValueKind.Object || !root.TryGetProperty("coefficients", out JsonElement list)
                || list.ValueKind != JsonValueKind.Array)
                throw InputException.In(file, TerminalText.TraceCoefficientsList);
            double[] coefficients = [.. list.EnumerateArray().Select(item => item.ValueKind == JsonValueKind.Number ? item.GetDouble()
                : throw InputException.In(file, TerminalText.TraceCoefficientsNumbers))];
            if (!root.TryGetProperty("degree", out JsonElement given) || given.ValueKind != JsonValueKind.Number
                || !given.TryGetInt32(out int degree))
                throw InputException.In(file, TerminalText.TraceDegree);
            if (coefficients.Length == degree + 1) throw InputException.In(file, TerminalText.TraceFittedWithConstant);
            if (coefficients.Length != degree || degree is < 1 or > 3)
                throw InputException.In(file, TerminalText.TraceCoefficientsNotDegree(coefficients.Length, degree));
            if (!coefficients.All(double.IsFinite) || coefficients[0] == 0)
                throw InputException.In(file, TerminalText.TraceFirstCoefficientZero);
            double? straightFrom = root.TryGetProperty("greatestDeflectionCounts", out JsonElement greatest)
                && greatest.ValueKind == JsonValueKind.Number ? greatest.GetDouble() : null;
            return new ForceCurve(coefficients) { GreatestDeflectionCounts = straightFrom };
        }
        catch (JsonException fault)
        {
            throw new InputException(TerminalText.InputNotJson(file, (fault.LineNumber ?? 0) + 1, PrintedBy), fault);
        }
    }
}
