using System.Globalization;
using RigDaq.Tables.Readings;
using Reading = RigDaq.Tables.Readings.TableReading;

namespace RigDaq.Tables.Tests;

/// <summary>
/// Files that R, Python, openpyxl and Gnumeric wrote (tools/tables) from two recordings of others (source lines in the files):
/// each is read to the values that the recordings hold, without a word from a person.
/// </summary>
public sealed class ForeignTest
{
    private static readonly Recording Tension = Recording.Of("source-tension.csv"),
        Puncture = Recording.Of("source-puncture.csv");

    [Theory]
    [InlineData("r-csv2.csv", "semicolon", ",", "utf-8")]
    [InlineData("r-table.txt", "tab", ".", "utf-16")]
    [InlineData("py-utf16.txt", "tab", ".", "utf-16")]
    [InlineData("py-clock.csv", "semicolon", ",", "utf-8")]
    [InlineData("py-gbk.csv", "comma", ".", "gbk")]
    [InlineData("gnumeric-pipe.txt", "pipe", ".", "utf-8")]
    public void Reads_text(string file, string separator, string mark, string encoding)
    {
        Reading reading = Read(file);
        Assert.Equal((separator, mark, encoding), (reading.Separator, reading.DecimalMark, reading.Encoding));
        Puncture.IsIn(Assert.Single(reading.Curves));
        Assert.Empty(reading.Warnings);
        Assert.Empty(reading.Curves[0].Warnings);
    }

    [Fact]
    public void Reads_blanks_without_names_and_says_what_it_guessed()
    {
        Reading reading = Read("py-blanks.txt");
        Assert.Equal("space", reading.Separator);
        Assert.Null(reading.HeaderLine);
        Puncture.IsIn(Assert.Single(reading.Curves));
        Assert.Contains(reading.Warnings, warning =>
            warning.AsKept().Contains("column 3 was taken for the force", StringComparison.Ordinal));
        Assert.Contains(reading.Warnings, warning => warning.Code == "assumedForceUnit");
    }

    [Fact]
    public void Reads_Latin_1_with_lines_before_the_header()
    {
        Reading reading = Read("r-latin1.csv");
        Assert.Equal(("windows-1252", 6), (reading.Encoding, reading.HeaderLine));
        Assert.Equal(["s", "N", "µm"], reading.Columns.Select(column => column.Unit));
        Tension.IsIn(Assert.Single(reading.Curves));
    }

    [Theory]
    [InlineData("gnumeric.xlsx")]
    [InlineData("gnumeric.xls")]
    public void Reads_a_workbook(string file) => Puncture.IsIn(Assert.Single(Read(file).Curves));

    [Fact]
    public void Reads_the_first_sheet_and_another_one_where_it_is_named()
    {
        Reading reading = Read("xl-sheets.xlsx");
        Assert.Equal(["First strip", "Second strip"], reading.Sheets);
        Assert.Equal(4, reading.HeaderLine);
        Tension.IsIn(Assert.Single(reading.Curves));
        foreach (string sheet in new[] { "second STRIP",
            "2" }) Puncture.IsIn(Assert.Single(Read("xl-sheets.xlsx", new ReadingOptions { Sheet = sheet }).Curves));
        Reading none = Raw("xl-sheets.xlsx", new ReadingOptions { Sheet = "Third" });
        Assert.Contains("First strip, Second strip", Assert.Single(none.Faults).Problem, StringComparison.Ordinal);
    }

    [Fact]
    public void Reads_cells_with_times_of_day()
    {
        Reading reading = Read("xl-clock.xlsx");
        Assert.Equal(2, reading.Curves.Count);
        Tension.IsIn(reading.Curves[0], toSeconds: 1e-3);
        Puncture.IsIn(reading.Curves[1], toSeconds: 1e-3);
    }

    [Fact]
    public void Reads_curves_side_by_side_and_below_one_another()
    {
        foreach ((string file, string[] names) in new[]
        {
            ("py-side-by-side.csv", new[] { "Specimen 1", "Specimen 2" }), ("py-sections.csv", ["Strip 1", "Strip 2"]),
                ("r-long.csv", ["A", "B"]),
        })
        {
            Reading reading = Read(file);
            Assert.Equal(names, reading.Curves.Select(curve => curve.Name));
            Tension.IsIn(reading.Curves[0], missing: file == "r-long.csv" ? 4 : null);
            Puncture.IsIn(reading.Curves[1]);
        }
    }

    [Fact]
    public void Turns_a_compression_and_needs_a_rate_or_a_speed_where_there_is_no_time()
    {
        Reading asked = Raw("py-position.csv", new ReadingOptions());
        Assert.Contains("--rate (samples per second) or --speed", Assert.Single(asked.Faults).Problem, StringComparison.Ordinal);
        Reading reading = Read("py-position.csv", new ReadingOptions { RateHertz = 20 });
        Assert.True(reading.Turned);
        // The recording's own last step is shorter.
        Puncture.IsIn(Assert.Single(reading.Curves), toSeconds: 0.03);
        Assert.Contains(reading.Curves[0].Warnings, warning => warning.Code == "signTurned");
        Assert.Contains(reading.Curves[0].Warnings, warning => warning.Code == "positionTurned");
    }

    [Fact]
    public void Takes_grams_for_the_weight_of_that_mass_and_capitals_for_words()
    {
        Reading reading = Read("py-grams.csv");
        Assert.Equal(["s", "g", "in"], reading.Columns.Select(column => column.Unit));
        Puncture.IsIn(Assert.Single(reading.Curves));
        Assert.Contains("unit of mass", Assert.Single(reading.Warnings), StringComparison.Ordinal);
    }

    [Fact]
    public void Times_a_recording_without_time_by_the_speed_that_a_person_gives()
    {
        Reading reading = Read("py-position.csv", new ReadingOptions { SpeedMillimetresPerSecond = 0.5 });
        RecordedCurve curve = Assert.Single(reading.Curves);
        for (int i = 0; i < curve.Values.Length; i++)
            Assert.Equal(Math.Abs(curve.PositionsMillimetres![i] - curve.PositionsMillimetres[0]) / 0.5, curve.TimesSeconds[i], 0.05);
    }

    [Fact]
    public void What_was_used_reads_the_next_file_alike()
    {
        foreach (string file in new[] { "r-csv2.csv", "r-table.txt", "py-clock.csv", "py-sections.csv", "xl-clock.xlsx",
            "py-side-by-side.csv" })
        {
            Reading first = Read(file);
            Reading again = Read(file, first.Used);
            Assert.Equal(first.Curves.SelectMany(curve => curve.Values), again.Curves.SelectMany(curve => curve.Values));
            Assert.Equal(first.Curves.SelectMany(curve => curve.TimesSeconds),
                again.Curves.SelectMany(curve => curve.TimesSeconds));
        }
    }

    private static Reading Read(string file, ReadingOptions? options = null)
    {
        Reading reading = Raw(file, options ?? new ReadingOptions());
        Assert.Equal("", string.Join('\n', reading.Faults));
        return reading;
    }

    private static Reading Raw(string file, ReadingOptions options) =>
        RecordedTable.Read(File.ReadAllBytes(Recording.PathOf(file)), options);

    /// <summary>What a source file holds.</summary>
    private sealed record Recording(double[][] Rows)
    {
        public static string PathOf(string file) => Path.Combine(AppContext.BaseDirectory, "Foreign", file);

        public static Recording Of(string file) => new([.. File.ReadLines(PathOf(file)).Where(line => line[0] is not ('#' or 't'))
            .Select(line => line.Split(',').Select(cell => double.Parse(cell, CultureInfo.InvariantCulture)).ToArray())]);

        /// <summary>Whether a curve holds the same; a row may lack its value.</summary>
        public void IsIn(RecordedCurve curve, int? missing = null, double toSeconds = 1e-9)
        {
            Assert.Equal(Rows.Length, curve.Values.Length);
            for (int i = 0; i < Rows.Length; i++)
            {
                Assert.Equal(Rows[i][0], curve.TimesSeconds[i], toSeconds);
                Assert.Equal(i == missing ? double.NaN : Rows[i][1], curve.Values[i], 1e-4);
                if (curve.PositionsMillimetres is { } positions) Assert.Equal(Rows[i][2], positions[i], 1e-9);
            }
        }
    }
}
