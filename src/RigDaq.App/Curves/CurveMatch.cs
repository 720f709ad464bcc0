using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Tables.Readings;

namespace RigDaq.App.Curves;

/// <summary>Brings files and the rows of a table together: each curve has a row, each row a curve; all faults are told at once.</summary>
internal static class CurveMatch
{
    /// <summary>Reads files; all that is wrong with any of them is told at once.</summary>
    /// <exception cref="InputException">The message has every fault, one a line.</exception>
    public static IReadOnlyList<CurveSource> Read(IEnumerable<string> files, ReadingOptions options)
    {
        var faults = new InputFaults();
        var sources = new List<CurveSource>();
        foreach (string file in files)
        {
            try
            {
                CurveSource source = CurveSource.Of(Path.GetFileName(file), CurveFile.Bytes(file), options);
                sources.Add(source);
                foreach (TableFault fault in source.Reading.Faults) faults.Add(new InputException(AppText.CurveFault(file, fault)));
            }
            catch (InputException fault)
            {
                faults.Add(fault);
            }
        }

        faults.ThrowIfAny();
        return sources;
    }

    /// <summary>The curves of files with their rows.</summary>
    /// <param name="table">The table's path; without files its rows name files beside it.</param>
    /// <param name="rows">Its rows.</param>
    /// <param name="files">The files; empty to take those that the table names.</param>
    /// <param name="options">How the files are to be read.</param>
    /// <exception cref="InputException">The message has every fault, one a line.</exception>
    public static IReadOnlyList<CurveOfSpecimen> Match(string table, IReadOnlyList<CurveRow> rows, IReadOnlyList<string> files,
        ReadingOptions options)
    {
        string beside = Path.GetDirectoryName(Path.GetFullPath(table))!;
        if (files.Count == 0) files = [.. rows.Select(row => Path.Combine(beside, row.File)).Distinct()];
        return Match(table, rows, Read(files, options));
    }

    /// <inheritdoc cref="Match(string, IReadOnlyList{CurveRow}, IReadOnlyList{string}, ReadingOptions)"/>
    public static IReadOnlyList<CurveOfSpecimen> Match(string table, IReadOnlyList<CurveRow> rows, IReadOnlyList<CurveSource> sources)
    {
        var faults = new InputFaults();
        foreach (string twice in sources.GroupBy(source => source.Name, StringComparer.OrdinalIgnoreCase)
            .Where(same => same.Count() > 1).Select(same => same.Key))
            faults.Add(InputException.In(twice, AppText.CurveFileTwice));
        faults.ThrowIfAny();
        Dictionary<string, CurveSource> byName = sources.ToDictionary(source => source.Name, StringComparer.OrdinalIgnoreCase);
        var matched = new List<CurveOfSpecimen>();
        foreach (CurveRow row in rows)
        {
            if (!byName.TryGetValue(Path.GetFileName(row.File), out CurveSource? source))
            {
                faults.Add(InputException.At(table, row.Line, CurveRows.File, AppText.CurveRowWithoutFile(row.File)));
                continue;
            }

            RecordedCurve[] curves = [.. source.Reading.Curves.Where(curve =>
                row.Curve.Length == 0 || curve.Name.Equals(row.Curve, StringComparison.OrdinalIgnoreCase))];
            if (curves.Length == 1) matched.Add(new CurveOfSpecimen(source, curves[0], row));
            else faults.Add(InputException.At(table, row.Line, CurveRows.Curve,
                AppText.CurveRowWhich(row.Curve, [.. source.Reading.Curves.Select(curve => curve.Name)])));
        }

        foreach (CurveSource source in sources)
        {
            foreach (RecordedCurve curve in source.Reading.Curves.Where(curve =>
                !matched.Exists(one => one.Source == source && one.Curve == curve)))
            {
                // What a row names wrongly has been told already.
                if (rows.Any(row => Path.GetFileName(row.File).Equals(source.Name, StringComparison.OrdinalIgnoreCase)
                    && row.Curve.Length == 0)) continue;
                faults.Add(InputException.In(AppText.CurveName(source.Name, curve.Name), AppText.CurveWithoutRow(table)));
            }
        }

        faults.ThrowIfAny();
        return matched;
    }
}
