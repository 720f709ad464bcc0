using System.IO.Compression;
using System.Text.Json;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;

namespace RigDaq.Core.Tests.Calibration.Coverage;

/// <summary>
/// How often the 95 % interval of a force holds the truth, for cells that another maker made (<c>tools/uncertainty/cells.py</c>).
/// RIGDAQ_CELLS names a file of more of them; without it the corpus's few a kind are read.
/// </summary>
public sealed class CellsTest(ITestOutputHelper output)
{
    private const double Normal95 = 1.959964;

    [Fact]
    public void The_interval_holds_the_truth_of_cells_that_another_maker_made()
    {
        var rows = new SortedDictionary<(string, double), Tally>();
        foreach (string line in Lines())
        {
            using var document = JsonDocument.Parse(line);
            Tell(document.RootElement, rows);
        }

        foreach (var ((kind, share), tally) in rows)
        {
            tally.Errors.Sort();
            double needed = tally.Errors[(int)(0.95 * tally.Errors.Count)];
            output.WriteLine(FormattableString.Invariant(
                $"{kind,-48} {share,5:0.00}  n {tally.Errors.Count,5}  held {100.0 * tally.Held / tally.Errors.Count,5:0.0} %  U/needed {tally.Expanded / tally.Errors.Count / needed,5:0.00}  U {100 * tally.Relative / tally.Errors.Count:0.0000} %  bounds {100 * tally.Bounds / tally.Errors.Count:0} %  U/stated {tally.Stated / tally.Errors.Count:0.00}"));
            if (Environment.GetEnvironmentVariable("RIGDAQ_CELLS_LINES") is null) continue;
            double squares = tally.Errors.Count * Math.Pow(needed / Normal95, 2);
            output.WriteLine("    u² over needed²/1.96²: " + string.Join(", ", tally.Lines.Where(line => line.Value > 0.01 * squares)
                .Select(line => FormattableString.Invariant($"{line.Key} {line.Value / squares:0.00}"))));
        }

        // Forces of one calibration share its errors: the three of a kind are no three draws. Four standard deviations of a share of 95 %
        // of so many calibrations.
        Assert.All(rows.GroupBy(row => row.Key.Item1), kind =>
        {
            double held = kind.Average(row => (double)row.Value.Held / row.Value.Errors.Count);
            double allowed = 0.95 - (4 * Math.Sqrt(0.95 * 0.05 / kind.First().Value.Errors.Count));
            Assert.True(held >= allowed,
                FormattableString.Invariant($"{kind.Key}: held {100 * held:0.0} %, at least {100 * allowed:0.0} % are wanted"));
        });
    }

    // From the best class to none.
    private static readonly string[] Best = ["0.5", "1", "2", "3", "none"];

    // tools/uncertainty/classes.py decided them by the definitions alone (ISO 7500-1, from memory), with a resolution of one count and of
    // the converter's true step. Where windows of equal ranges and means between the steps hide a coarse step, nothing can tell it: then
    // one count it is, or what of the step shows.
    [Fact]
    public void The_class_is_the_one_that_the_definitions_give()
    {
        string[][] decided = [.. File.ReadLines(Path.Combine(AppContext.BaseDirectory, "corpus", "classes.csv")).Skip(1).Select(Cells)];
        var tally = new SortedDictionary<string, int>(StringComparer.Ordinal);
        int at = 0, found = 0, coarse = 0;
        foreach (string line in Packed())
        {
            using var document = JsonDocument.Parse(line);
            CalibrationClass? given = Fit(document.RootElement).Figures.Class;
            string[] row = decided[at++];
            Assert.Equal(document.RootElement.GetProperty("kind").GetString(), row[0]);
            string mine = given is null ? "none" : given.Value.ToString(System.Globalization.CultureInfo.InvariantCulture);
            bool isCoarse = row[0].StartsWith("steps of", StringComparison.Ordinal);
            Assert.True(mine == row[2] || (isCoarse && Place(mine) >= Place(row[1]) && Place(mine) <= Place(row[2])),
                $"{row[0]}, table {at}: {mine}, by the definitions {row[1]} or {row[2]}");
            if (!isCoarse) continue;
            coarse++;
            if (mine == row[2]) found++;
            string key = $"{row[0]}: one count {row[1]}, true step {row[2]}, the program {mine}";
            tally[key] = tally.GetValueOrDefault(key) + 1;
        }

        foreach ((string key, int count) in tally) output.WriteLine($"{count} {key}");
        Assert.Equal(decided.Length, at);
        Assert.True(found >= 0.75 * coarse, $"{found} of {coarse}");

        static int Place(string given) => Array.IndexOf(Best, given);

        // Names hold commas.
        static string[] Cells(string line)
        {
            string[] parts = line.Split(',');
            return [string.Join(',', parts[..^2]).Trim('"'), parts[^2], parts[^1]];
        }
    }

    private static IEnumerable<string> Lines() =>
        Environment.GetEnvironmentVariable("RIGDAQ_CELLS") is { Length: > 0 } file ? File.ReadLines(file) : Packed();

    private static IEnumerable<string> Packed()
    {
        using var reader =
            new StreamReader(new GZipStream(File.OpenRead(Path.Combine(AppContext.BaseDirectory, "corpus", "cells.jsonl.gz")),
            CompressionMode.Decompress));
        while (reader.ReadLine() is { } line) yield return line;
    }

    internal static CalibrationFit Fit(JsonElement made)
    {
        var readings = made.GetProperty("rows").EnumerateArray().Select(row => new CalibrationReading
        {
            Series = row[0].GetRawText(),
            Direction = row[1].GetString() == "rising" ? LoadDirection.Rising : LoadDirection.Falling,
            Reference = row[2].GetDouble() == 0 ? ReferenceForce.Zero : ReferenceForces.Entered(row[2].GetDouble(), row[4].GetDouble()),
            Counts = row[3].GetDouble(),
            FluctuationCounts = Number(row[5]),
        }).ToList();
        var told = made.GetProperty("told");
        return CalibrationFit.Of(readings, new FitSettings { Degree = made.GetProperty("degree").GetInt32() }, new UncertaintyInputs
        {
            FullScaleNewtons = Told("fullScaleNewtons"),
            NonLinearityPercent = Told("nonLinearityPercent"),
            TemperaturePercentPerKelvin = Told("temperaturePercentPerKelvin"),
            TemperatureSpreadKelvin = Told("temperatureSpreadKelvin"),
        });

        double? Told(string name) => told.TryGetProperty(name, out var value) ? value.GetDouble() : null;
        static double? Number(JsonElement value) => value.ValueKind == JsonValueKind.Null ? null : value.GetDouble();
    }

    private static void Tell(JsonElement made, SortedDictionary<(string, double), Tally> rows)
    {
        var fit = Fit(made);
        var curve = fit.Curve;
        foreach (var point in made.GetProperty("points").EnumerateArray())
        {
            double read = curve.Newtons(point.GetProperty("deflection").GetDouble()), truth = point.GetProperty("force").GetDouble();
            var way = point.GetProperty("way").GetString() == "rising" ? LoadWay.Rising : LoadWay.Falling;
            var uncertainty = ForceUncertainty.Of(fit.Uncertainty, read, way);
            var key = (made.GetProperty("kind").GetString()!, point.GetProperty("share").GetDouble());
            if (!rows.TryGetValue(key, out var tally)) rows[key] = tally = new Tally();
            double error = Math.Abs(read - truth);
            tally.Errors.Add(error);
            if (error <= uncertainty.ExpandedNewtons!.Value) tally.Held++;
            tally.Expanded += uncertainty.ExpandedNewtons.Value;
            tally.Relative += uncertainty.ExpandedNewtons.Value / truth;
            tally.Stated += uncertainty.ExpandedNewtons.Value / Untold(fit.Uncertainty, read, way);
            double bounds = uncertainty.Lines.Where(part => part.HalfWidthNewtons is not null || part.IsKnown)
                .Sum(part => part.StandardNewtons * part.StandardNewtons);
            tally.Bounds += bounds / (uncertainty.StandardNewtons!.Value * uncertainty.StandardNewtons.Value);
            foreach (var part in uncertainty.Lines)
            {
                string name = part.IsKnown ? part.Kind + " known" : part.Kind.ToString();
                tally.Lines[name] = tally.Lines.GetValueOrDefault(name) + (part.StandardNewtons * part.StandardNewtons);
            }
        }
    }

    // U had the references told nothing about the shape: what the sheet alone (or what is assumed for it) states.
    private static double Untold(UncertaintyModel model, double force, LoadWay way) => ForceUncertainty.Of(
        model with { Shape = new CellShape { Information = [[0, 0], [0, 0]], Evidence = [0, 0], Absorbed = model.Shape!.Absorbed } }, force,
            way)
        .ExpandedNewtons!.Value;

    private sealed class Tally
    {
        public List<double> Errors { get; } = [];

        public int Held { get; set; }

        public double Expanded { get; set; }

        public double Relative { get; set; }

        public double Bounds { get; set; }

        public double Stated { get; set; }

        /// <summary>The squares of the budget's lines in newtons, summed.</summary>
        public SortedDictionary<string, double> Lines { get; } = new(StringComparer.Ordinal);
    }
}
