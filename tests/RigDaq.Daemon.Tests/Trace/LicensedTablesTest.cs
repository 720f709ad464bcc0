using System.Globalization;
using System.Text;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Daemon.Commands;
using RigDaq.Tables.Readings;

namespace RigDaq.Daemon.Tests.Trace;

/// <summary>
/// The licensed recordings (tests/corpus/curves, CC BY 4.0) in the tables that programs keep them in: turned over, in other units,
/// with decimal commas, several in one file beside or below one another. However they stand there, each curve reads as it does alone.
/// </summary>
public sealed class LicensedTablesTest : IDisposable
{
    private static readonly string Curves = Path.Combine(AppContext.BaseDirectory, "corpus", "curves");

    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-tables-").FullName;

    // 1 kgf = 9.80665 N, 1 lbf = 4.4482216152605 N, 1 in = 25.4 mm: NIST Special Publication 811 (2008), appendix B.8.
    public static TheoryData<string, string, double, double, double> Tables => new()
    {
        { "Time (s),Load (N),Position (mm)", ".", -1, 1, 1 },
        { "Zeit [ms];Prüfkraft [kN];Weg [mm]", ",", 1e-3, 1000, 1 },
        { "elapsed time (min)\tload (lbf)\tcrosshead (in)", ".", 1 / 4.4482216152605, 1.0 / 60, 1 / 25.4 },
        { "TIME/S;FORCE/KGF;EXTENSION/MM", ",", 1 / 9.80665, 1, 1 },
        { "t [s]|weight [g]|position [cm]", ".", 1000 / 9.80665, 1, 0.1 },
    };

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [MemberData(nameof(Tables))]
    public void Reads_alike_in_any_table(string header, string mark, double force, double time, double position)
    {
        string separator = header.First(letter => letter is ',' or ';' or '\t' or '|').ToString();
        foreach (string name in Files())
        {
            // What is noise alone has no sign that could be told.
            if (force < 0 && name == "geo_Resinado_30J_t.csv") continue;
            double[][] rows = Rows(name);
            bool places = rows[0].Length > 2;
            string[] names = header.Split(separator);
            var text = new StringBuilder("Made for a test; not our layout\n\n").AppendJoin(separator, places ? names : names[..2])
                .Append('\n');
            foreach (double[] row in rows)
                text.AppendJoin(separator, row.Zip([time, force, position], (cell, factor) => Cell(cell * factor, mark))).Append('\n');
            Same(Alone(name), Assert.Single(Read(Write(name, text.ToString()))), name);
        }
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Reads_alike_beside_others(bool isTurned)
    {
        foreach (string[] three in Files().Where(name => name != "geo_Resinado_30J_t.csv").Chunk(3))
        {
            double[][][] rows = [.. three.Select(Rows)];
            var text = new StringBuilder().AppendJoin(';', three.SelectMany(name => new[] { name, "" })).Append('\n')
                .AppendJoin(';', three.SelectMany(_ => new[] { "Time (s)", "Load (N)" })).Append('\n');
            for (int i = 0; i < rows.Max(curve => curve.Length); i++)
            {
                text.AppendJoin(';', rows.SelectMany(curve => i < curve.Length
                    ? new[] { Cell(curve[i][0], ","), Cell(isTurned ? -curve[i][1] : curve[i][1], ",") } : ["", ""])).Append('\n');
            }

            IReadOnlyList<TraceAnswer> answers = Read(Write("beside.csv", text.ToString()));
            Assert.Equal(three.Length, answers.Count);
            for (int i = 0; i < three.Length; i++) Same(Alone(three[i], places: false), answers[i], three[i]);
        }
    }

    [Fact]
    public void Reads_alike_below_others()
    {
        foreach (string[] three in Files().Chunk(3))
        {
            var text = new StringBuilder("specimen\ttime (s)\tforce (N)\n");
            foreach (string name in three)
            {
                foreach (double[] row in Rows(name)) text.Append(CultureInfo.InvariantCulture, $"{name}\t{row[0]:R}\t{row[1]:R}\n");
            }

            IReadOnlyList<TraceAnswer> answers = Read(Write("below.txt", text.ToString()));
            Assert.Equal(three, answers.Select(answer => answer.Curve ?? three[0]));
            for (int i = 0; i < three.Length; i++) Same(Alone(three[i], places: false), answers[i], three[i]);
        }
    }

    private static IEnumerable<string> Files() =>
        Directory.EnumerateFiles(Curves, "*_*.csv").Select(path => Path.GetFileName(path)).Order(StringComparer.Ordinal);

    private static double[][] Rows(string name) =>
        [.. File.ReadLines(Path.Combine(Curves, name)).Where(line => line.Length > 0 && (char.IsDigit(line[0]) || line[0] == '-'))
            .Select(line => line.Split(',').Select(cell => double.Parse(cell, CultureInfo.InvariantCulture)).ToArray())];

    private static string Cell(double value, string mark) =>
        value.ToString("R", CultureInfo.InvariantCulture).Replace(".", mark, StringComparison.Ordinal);

    private TraceAnswer Alone(string name, bool places = true)
    {
        string path = Path.Combine(Curves, name);
        if (!places)
        {
            path = Write("alone.csv", string.Join('\n', Rows(name).Select(row => FormattableString.Invariant($"{row[0]:R},{row[1]:R}"))
                .Prepend("time_s,force_N")));
        }

        return Assert.Single(Read(path));
    }

    private static IReadOnlyList<TraceAnswer> Read(string file)
    {
        var answers = CurveAnswers.Of(file, new TraceWish(null, new DetectionSettings(), null, new ReadingOptions(), Units.Si, 0, null));
        Assert.Null(answers.Failure);
        return answers.Answers;
    }

    private static void Same(TraceAnswer alone, TraceAnswer read, string name)
    {
        Assert.Equal((name, alone.Ending, alone.Steps.Count), (name, read.Ending, read.Steps.Count));
        Assert.Equal(alone.PeakForceNewtons is null, read.PeakForceNewtons is null);
        if (alone.PeakForceNewtons is { } peak) Assert.Equal(peak, read.PeakForceNewtons!.Value, 1e-4 * peak);
    }

    private string Write(string name, string text)
    {
        string path = Path.Combine(_folder, name);
        File.WriteAllText(path, text);
        return path;
    }
}
