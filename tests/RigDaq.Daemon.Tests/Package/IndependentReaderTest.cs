using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using DuckDB.NET.Data;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.App.Reporting;
using RigDaq.Archive;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Pulls;
using RigDaq.Daemon.Tests.Trace;
using RigDaq.Tests.Shared;

namespace RigDaq.Daemon.Tests.Package;

/// <summary>The exported package as DuckDB reads it: a database by others, with its own readers of CSV and Parquet and its own
/// arithmetic.</summary>
[Collection(nameof(PrintedOutput))]
public sealed class IndependentReaderTest(ExportedStudy exported) : IClassFixture<ExportedStudy>, IDisposable
{
    /// <summary>Two ways of adding up the same numbers differ by rounding alone.</summary>
    private const double Rounding = 1e-12;

    private readonly DuckDBConnection _duck = Open();

    public void Dispose() => _duck.Dispose();

    [Fact]
    public async Task DuckDb_finds_the_groups_that_the_report_prints()
    {
        using RigArchive archive = Archive();
        var reporter = new StudyReporter(archive, TimeProvider.System);
        ComparisonAnswer answer = reporter.Model(PulledStudy.Id)!.Answer.Answer!;
        List<object?[]> groups = Ask($"""
            SELECT material, condition, setting, count(*), avg(strength_MPa), stddev_samp(strength_MPa), median(strength_MPa), min(strength_MPa), max(strength_MPa)
            FROM '{File("strengths.csv")}' GROUP BY ALL
            """);
        Assert.Equal(12, groups.Count);
        string file = exported.In("report.html");
        reporter.Write(PulledStudy.Id, file);
        string report = await System.IO.File.ReadAllTextAsync(file, TestContext.Current.CancellationToken);
        foreach (object?[] row in groups)
        {
            decimal setting = Convert.ToDecimal(row[2], CultureInfo.InvariantCulture);
            GroupStatistics ours = answer.Groups.Single(group => group.Material == (string)row[0]! && group.Condition == (string)row[1]!
                && group.Setting == setting);
            Assert.Equal(ours.N, Convert.ToInt32(row[3], CultureInfo.InvariantCulture));
            double[] theirs = [.. row[4..].Select(cell => Convert.ToDouble(cell, CultureInfo.InvariantCulture))];
            Near([ours.Mean, ours.StandardDeviation!.Value, ours.Median, ours.Minimum, ours.Maximum], theirs);

            // And as the person reads it: the printed figure is DuckDB's, rounded.
            string name = string.Create(CultureInfo.InvariantCulture, $"{row[0]}, {row[1]}, {setting} °C");
            string[] printed = Cells(report, name);
            Assert.Equal(ours.N.ToString(CultureInfo.InvariantCulture), printed[0]);
            Rounds(theirs[0], printed[2]);
            Rounds(theirs[1], printed[4]);
        }
    }

    [Fact]
    public void DuckDb_finds_every_sample_and_every_peak_in_the_parquet_file()
    {
        using RigArchive archive = Archive();
        List<object?[]> traces = Ask($"""
            SELECT t.run_id, count(*), max(t.force_N), any_value(r.raw_peak_force_N), sum(t.counts::HUGEINT)::DOUBLE, any_value(r.peak_force_N)
            FROM '{File("traces.parquet")}' t JOIN '{File("runs.csv")}' r USING (run_id) GROUP BY t.run_id ORDER BY t.run_id
            """);
        Assert.Equal(48, traces.Count);
        foreach (object?[] row in traces)
        {
            PullRecord pull = archive.Runs.FindPull(row[0]!.ToString()!)!;
            Assert.Equal(pull.Trace.Samples.Count, Convert.ToInt32(row[1], CultureInfo.InvariantCulture));
            Assert.Equal(pull.Trace.Samples.Sum(sample => (double)sample.Counts), Convert.ToDouble(row[4], CultureInfo.InvariantCulture));
            double greatest = Convert.ToDouble(row[2], CultureInfo.InvariantCulture);
            Near([Convert.ToDouble(row[3], CultureInfo.InvariantCulture)], [greatest]);
            // The estimate takes the noise's upward bias off and adds half of what lies between two samples: it is within 1 % of the
            // greatest sample.
            Assert.Equal(1, Convert.ToDouble(row[5], CultureInfo.InvariantCulture) / greatest, 0.01);
        }

        Assert.Equal([1L], Ask($"SELECT count(DISTINCT compression) FROM parquet_metadata('{File("traces.parquet")}')")[0]);
        Assert.Equal("ZSTD", Ask($"SELECT any_value(compression) FROM parquet_metadata('{File("traces.parquet")}')")[0][0]);
    }

    [Fact]
    public async Task DuckDb_reads_every_table_with_the_columns_and_types_that_the_descriptor_names()
    {
        JsonNode package =
            JsonNode.Parse(await System.IO.File.ReadAllTextAsync(File("datapackage.json"), TestContext.Current.CancellationToken))!;
        int tables = 0;
        foreach (JsonNode? resource in package["resources"]!.AsArray().Where(resource => resource!["schema"] is not null))
        {
            (string Name, string Type)[] fields =
                [.. resource!["schema"]!["fields"]!.AsArray()
                .Select(field => (field!["name"]!.GetValue<string>(), Duck(field["type"]!.GetValue<string>())))];
            string path = File(resource["path"]!.GetValue<string>());
            string columns = string.Join(", ", fields.Select(field => $"'{field.Name}': '{field.Type}'"));
            string table = path.EndsWith(".csv", StringComparison.Ordinal)
                ? $"read_csv('{path}', header = true, strict_mode = true, auto_detect = false, columns = {{{columns}}})" : $"'{path}'";
            Assert.Equal(fields.Select(field => field.Name), Ask($"DESCRIBE SELECT * FROM {table}").Select(row => (string)row[0]!));
            object?[] counted =
                Ask($"SELECT count(*) FROM (SELECT {string.Join(", ", fields.Select(field => $"\"{field.Name}\"::{field.Type}"))} FROM {table})")[0];
            Assert.True((long)counted[0]! > 0, path);
            string[] key = [.. resource["schema"]!["primaryKey"]?.AsArray().Select(name => name!.GetValue<string>()) ?? []];
            if (key.Length > 0) Assert.Equal(counted[0],
                Ask($"SELECT count(*) FROM (SELECT DISTINCT {string.Join(", ", key)} FROM {table})")[0][0]);
            tables++;
        }

        Assert.True(tables >= 7, $"{tables} tables");
    }

    private static string Duck(string type) => type switch
    {
        "number" => "DOUBLE",
        "integer" => "BIGINT",
        "boolean" => "BOOLEAN",
        "datetime" => "TIMESTAMP",
        "string" => "VARCHAR",
        _ => throw new NotSupportedException(type),
    };

    private static void Near(double[] ours, double[] theirs)
    {
        for (int i = 0; i < ours.Length; i++) Assert.Equal(ours[i], theirs[i], Math.Abs(ours[i]) * Rounding);
    }

    private static void Rounds(double value, string printed)
    {
        int decimals = printed.Contains('.', StringComparison.Ordinal) ? printed.Length - printed.IndexOf('.', StringComparison.Ordinal) - 1
            : 0;
        Assert.Equal(value, double.Parse(printed, CultureInfo.InvariantCulture), 0.5000001 * Math.Pow(10, -decimals));
    }

    private static string[] Cells(string report, string name)
    {
        Match row = Regex.Match(report, $"<tr><th scope=\"row\">{Regex.Escape(name)}</th>(.*?)</tr>");
        Assert.True(row.Success, name);
        return [.. Regex.Matches(row.Groups[1].Value, "<td[^>]*>(.*?)</td>").Select(cell => cell.Groups[1].Value)];
    }

    private static DuckDBConnection Open()
    {
        var connection = new DuckDBConnection("Data Source=:memory:");
        connection.Open();
        return connection;
    }

    private RigArchive Archive() => new(exported.Data, TimeProvider.System, NullLogger.Instance);

    private string File(string name) => Path.Combine(exported.Package, name).Replace('\\', '/');

    private List<object?[]> Ask(string sql)
    {
        using DuckDBCommand command = _duck.CreateCommand();
        command.CommandText = sql;
        using DuckDBDataReader reader = command.ExecuteReader();
        var rows = new List<object?[]>();
        while (reader.Read())
        {
            var row = new object[reader.FieldCount];
            reader.GetValues(row);
            rows.Add([.. row.Select(cell => cell is DBNull ? null : cell)]);
        }

        return rows;
    }
}
