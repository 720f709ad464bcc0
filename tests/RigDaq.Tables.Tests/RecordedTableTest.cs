using System.Text;
using RigDaq.Tables.Readings;
using RigDaq.Text;

namespace RigDaq.Tables.Tests;

/// <summary>Layouts, faults and ambiguities one by one. The tables are made here; what other programs write is in
/// ForeignTest.</summary>
public sealed class RecordedTableTest
{
    // 1 kgf = 9.80665 N, 1 lbf = 4.4482216152605 N, 1 in = 25.4 mm: NIST Special Publication 811 (2008), appendix B.8.
    [Theory]
    [InlineData("N", 1)]
    [InlineData("kN", 1000)]
    [InlineData("mN", 0.001)]
    [InlineData("kgf", 9.80665)]
    [InlineData("gf", 0.00980665)]
    [InlineData("lbf", 4.4482216152605)]
    [InlineData("KGF", 9.80665)]
    public void Knows_units_of_force(string unit, double newtons)
    {
        TableReading reading = Read($"time (s),load ({unit})\n0,0\n0.1,2\n0.2,3\n");
        Assert.Equal(2 * newtons, reading.Curves[0].Values[1], 1e-12 * newtons);
        Assert.Empty(reading.Warnings);
    }

    [Theory]
    [InlineData("0,0\n20,1\n40,2\n60,3\n", true)]
    [InlineData("0,0\n0.02,1\n0.04,2\n0.06,3\n", false)]
    [InlineData("0,0\n1,1\n2,2\n3,3\n", false)]
    public void Hints_at_milliseconds_where_times_without_a_unit_look_like_them(string rows, bool hints)
    {
        TableReading reading = Read("time,force (N)\n" + rows);
        Assert.Equal(hints, Assert.Single(reading.Warnings).AsKept().Contains("--time-unit ms", StringComparison.Ordinal));
    }

    [Fact]
    public void Several_readings_of_one_cell_show_the_decimal_mark()
    {
        (NamedTable? table, string? fault) = NamedTable.Read("file;width_mm\na.csv;10,1 10,3\n"u8.ToArray());
        Assert.Null(fault);
        Assert.Equal([10.1, 10.3], table!.Numbers(0, "width_mm")!);
    }

    [Theory]
    [InlineData("g", 0.00980665)]
    [InlineData("kg", 9.80665)]
    [InlineData("lb", 4.4482216152605)]
    public void Takes_a_mass_for_its_weight_and_says_so(string unit, double newtons)
    {
        TableReading reading = Read($"time (s),weight ({unit})\n0,0\n0.1,2\n0.2,3\n");
        Assert.Equal(2 * newtons, reading.Curves[0].Values[1], 1e-12);
        Assert.Contains("unit of mass", Assert.Single(reading.Warnings), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("s", "mm", 1, 1)]
    [InlineData("ms", "in", 0.001, 25.4)]
    [InlineData("µs", "cm", 1e-6, 10)]
    [InlineData("min", "m", 60, 1000)]
    [InlineData("h", "µm", 3600, 0.001)]
    public void Knows_units_of_time_and_position(string time, string position, double seconds, double millimetres)
    {
        RecordedCurve curve = Read($"Time;Extension;Force\n{time};{position};N\n0;0;1\n1;2;2\n2;3;3\n").Curves[0];
        Assert.Equal(seconds, curve.TimesSeconds[1], 1e-12 * seconds);
        Assert.Equal(2 * millimetres, curve.PositionsMillimetres![1], 1e-12 * millimetres);
    }

    [Theory]
    [InlineData("Kraft [N];Zeit [s]")]
    [InlineData("PRÜFKRAFT in N;Prüfzeit in s")]
    [InlineData("Last / kN;Zeit / ms")]
    [InlineData("Effort (N);Temps (s)")]
    [InlineData("Carga (N);Tempo (s)")]
    [InlineData("Fuerza, N;Tiempo, s")]
    [InlineData("Forza (N);Tempo (s)")]
    [InlineData("Kracht (N);Tijd (s)")]
    [InlineData("force_kN;time_ms")]
    [InlineData("Load..kN.;Time..s.")]
    [InlineData("LOAD (LBF);ELAPSED TIME (SEC)")]
    [InlineData("# F [N];t [s]")]
    [InlineData("N;s")]
    [InlineData("力/N;时间/s")]
    public void Knows_names_of_columns(string header)
    {
        TableReading reading = Read(header + "\n0;0\n2;0.1\n3;0.2\n");
        Assert.Equal([ColumnRole.Force, ColumnRole.Time], reading.Columns.Select(column => column.Role));
        Assert.Empty(reading.Warnings);
    }

    [Theory]
    [InlineData("1.234,5", ",", 1234.5)]
    [InlineData("1,234.5", ".", 1234.5)]
    [InlineData("1 234,5", ",", 1234.5)]
    [InlineData("1'234.5", ".", 1234.5)]
    [InlineData("1\u202f234,5", ",", 1234.5)]
    [InlineData("−12,5e1", ",", -125)]
    [InlineData("1.234.567", ",", 1234567)]
    [InlineData("1,234,567", ".", 1234567)]
    [InlineData(",5", ",", 0.5)]
    [InlineData("+.5", ".", 0.5)]
    public void Knows_how_numbers_are_written(string cell, string mark, double newtons)
    {
        TableReading reading = Read($"t (s);F (N)\n0;0\n1;{cell}\n2;0\n");
        Assert.Equal(mark, reading.DecimalMark);
        Assert.Equal(newtons, reading.Curves[0].Values[1] * (reading.Turned ? -1 : 1), 1e-9);
    }

    [Fact]
    public void Takes_three_decimals_for_decimals_where_every_number_has_them()
    {
        Assert.Equal(2.345, Read("t (s);F (N)\n1,000;1,234\n1,100;2,345\n1,200;3,456\n").Curves[0].Values[1]);
        TableReading unclear = Raw("t (s);F (N)\n1;998\n2;1,000\n3;1,002\n", new ReadingOptions());
        Assert.Contains("--decimal comma", Assert.Single(unclear.Faults).Problem, StringComparison.Ordinal);
        Assert.Equal(1002, Read("t (s);F (N)\n1;998\n2;1,000\n3;1,002\n", new ReadingOptions { DecimalMark = "point" }).Curves[0]
            .Values[2]);
        Assert.Equal(1.002, Read("t (s);F (N)\n1;998\n2;1,000\n3;1,002\n", new ReadingOptions { DecimalMark = "comma" })
            .Curves[0].Values[2]);
    }

    [Fact]
    public void Tells_all_faults_at_once_with_line_and_column()
    {
        TableReading reading =
            Raw("Time (s);Load (N)\n0;1\n0.1;abc\n0.2;1e400\n0.15;2\n0.3;inf\n0.4\n0.5;3;4\n0.6;5\n0.7;6\n0.8;7\n0.9;8\n",
            new ReadingOptions());
        Assert.Equal(
        [
            "line 3, column Load (N): “abc” is not a number.",
            "line 4, column Load (N): “1e400” is not a finite number.",
            "line 6, column Load (N): “inf” is not a number.",
            "line 7: 1 cell where 2 columns were expected.",
            "line 8: 3 cells where the header names 2 columns (decimal commas between commas? Save the table with semicolons or tabs).",
        ], reading.Faults.Select(fault => fault.ToString())
            .Where(fault => !fault.Contains("lies before", StringComparison.Ordinal)));
        Assert.Empty(reading.Curves);
    }

    [Fact]
    public void A_time_that_falls_is_a_fault_and_one_that_begins_anew_is_another_curve()
    {
        Assert.Contains("line 5, column t (s): 1.5 lies before",
            Assert.Single(Raw("t (s),F (N)\n0,1\n1,2\n2,3\n1.5,4\n3,5\n", new ReadingOptions()).Faults).ToString(),
            StringComparison.Ordinal);
        TableReading anew = Read("t (s),F (N)\n0,1\n1,2\n2,3\n0,4\n1,5\n2,6\n");
        Assert.Equal(["1", "2"], anew.Curves.Select(curve => curve.Name));
        Assert.Contains("line 5", Assert.Single(anew.Warnings), StringComparison.Ordinal);
    }

    [Fact]
    public void Says_what_it_assumed_where_the_file_gives_no_unit()
    {
        TableReading reading = Read("Time,Extension,Load\n0,0,1\n0.1,0.2,2\n0.2,0.4,3\n");
        Assert.Equal([true, true, true],
            new[] { "force", "time", "position" }.Select(what =>
            reading.Warnings.Any(warning => warning.AsKept().Contains($"no unit for the {what}", StringComparison.Ordinal))));
        Assert.Empty(Read("Time,Extension,Load\n0,0,1\n0.1,0.2,2\n0.2,0.4,3\n",
            new ReadingOptions { ForceUnit = "kN", TimeUnit = "s", PositionUnit = "in" }).Warnings);
    }

    [Theory]
    [InlineData("time_s,volts\n0,1\n0.1,2\n", "volts. Name it with --force-column")]
    [InlineData("t (s),stress (MPa),strain (%)\n0,1,2\n0.1,2,3\n", "Name it with --force-column")]
    [InlineData("1,2\n4,1\n2,7\n", "there is no header")]
    [InlineData("F (N)\n1\n2\n3\n", "--rate (samples per second).")]
    [InlineData("hello\nworld\n", "no rows of numbers")]
    [InlineData("t (s),F (N)\n0,NaN\n1,nan\n2,NA\n", "no row has a force")]
    [InlineData("", "a header line was expected")]
    [InlineData("\n\n", "no rows of numbers")]
    [InlineData("t,F\n0,1,2,5\n0,2,3,5\n0,3,4,5\n", "decimal commas between commas")]
    public void Asks_where_it_cannot_tell(string text, string expected) =>
        Assert.Contains(expected, Assert.Single(Raw(text, new ReadingOptions()).Faults).Problem, StringComparison.Ordinal);

    [Fact]
    public void Is_corrected_by_options()
    {
        const string Text = "A;B;C\n10;0;5\n11;1;6\n12;2;9\n";
        Assert.Equal([5, 6, 9],
            Read(Text, new ReadingOptions { ForceColumns = ["c"], TimeColumn = "2", ForceUnit = "N", TimeUnit = "s" }).Curves[0]
            .Values);
        Assert.Equal(2, Read(Text, new ReadingOptions { ForceColumns = ["1", "C"], RateHertz = 10 }).Curves.Count);
        Assert.Equal([0, 2, 4],
            Read(Text, new ReadingOptions
            {
                ForceColumns = ["C"],
                PositionColumn = "A",
                TimeColumn = "none",
                SpeedMillimetresPerSecond = 0.5
            }).Curves[0].TimesSeconds);
        TableReading wrong = Raw(Text,
            new ReadingOptions { ForceColumns = ["D"], TimeColumn = "7", ForceUnit = "apples", Sign = "left" });
        Assert.Equal(4, wrong.Faults.Count);
        Assert.Contains("--force-column: there is no column “D”; the columns are A, B, C.",
            wrong.Faults.Select(fault => fault.Problem).AsKept());
    }

    [Fact]
    public void Shared_times_make_several_curves_and_other_forces_are_named()
    {
        Assert.Equal(["F1", "F2"], Read("t (s),F1,F2\n0,1,2\n1,2,3\n2,3,4\n").Curves.Select(curve => curve.Name));
        TableReading one = Read("t (s),Load (N),Preload limit (N)\n0,1,2\n1,2,2\n2,3,2\n");
        Assert.Single(one.Curves);
        Assert.Contains(one.Warnings, warning => warning.AsKept().Contains("Preload limit (N)", StringComparison.Ordinal));
    }

    [Fact]
    public void A_column_of_samples_in_words_names_the_curves()
    {
        TableReading reading = Read("sample,time_s,force_n\nA,0,1\nA,1,2\nA,2,3\nA,3,4\nB,0,4\nB,1,5\nB,2,6\nB,3,7\n");
        Assert.Equal(["A", "B"], reading.Curves.Select(curve => curve.Name));
        Assert.Empty(reading.Warnings);
    }

    [Fact]
    public void Leaves_summaries_and_other_tables_aside()
    {
        TableReading reading =
            Read("Width (mm);10.1;mm\nt (s);F (N)\n0;1\n1;2\npause\n2;3\n\nMaximum;3\nspecimen;strength\nA;12.5\nB;13.5\n");
        Assert.Equal([1, 2, 3], reading.Curves[0].Values);
        Assert.Contains("Line 5", Assert.Single(reading.Warnings), StringComparison.Ordinal);
    }

    [Fact]
    public void A_last_line_that_a_power_cut_left_is_no_fault()
    {
        TableReading reading = Read("t (s),F (N)\n0,1\n1,2\n2");
        Assert.Equal(2, reading.Curves[0].Values.Length);
        Assert.Contains("cut off", Assert.Single(reading.Warnings), StringComparison.Ordinal);
    }

    [Fact]
    public void A_tension_below_an_offset_is_not_turned_and_a_compression_is()
    {
        Assert.False(Read("t (s),F (N)\n0,-50\n1,-50\n2,-10\n3,5\n4,-49\n").Turned);
        Assert.True(Read("t (s),F (N)\n0,1\n1,-50\n2,-100\n3,-120\n4,-2\n").Turned);
        Assert.False(Read("t (s),F (N)\n0,1\n1,-50\n2,-100\n3,-120\n4,-2\n", new ReadingOptions { Sign = "keep" }).Turned);
    }

    [Fact]
    public void An_inch_mark_does_not_swallow_the_file()
    {
        RecordedCurve curve = Read("Time (s),Position (\"),Load (N)\n0,0,1\n1,1,2\n2,2,3\n").Curves[0];
        Assert.Equal([0, 25.4, 50.8], curve.PositionsMillimetres!);
        Assert.Equal(3, Read("\"t (s)\",\"F \"\"peak\"\" (N)\"\n\"0\",\"1\"\n\"1\",\"2\"\n\"2\",\"3\"\n").Curves[0]
            .Values.Length);
    }

    private static TableReading Read(string text, ReadingOptions? options = null)
    {
        TableReading reading = Raw(text, options ?? new ReadingOptions());
        Assert.Equal("", string.Join('\n', reading.Faults));
        return reading;
    }

    private static TableReading Raw(string text, ReadingOptions options) =>
        RecordedTable.Read(Encoding.UTF8.GetBytes(text), options);
}
