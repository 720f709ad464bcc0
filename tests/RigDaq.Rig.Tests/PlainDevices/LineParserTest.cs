using RigDaq.Rig.PlainDevices;

namespace RigDaq.Rig.Tests.PlainDevices;

public sealed class LineParserTest
{
    private static readonly LineFormat Grams = new() { Separator = ',', Quantity = LineQuantity.Grams };

    [Theory]
    [InlineData("12.34", 1234)]
    [InlineData("-12.34", -1234)]
    [InlineData("+12.34", 1234)]
    [InlineData("+   12.34 g", 1234)]
    [InlineData("12.34g", 1234)]
    [InlineData("1.5 kg", 150_000)]
    [InlineData("Weight: 12.34 g", 1234)]
    [InlineData("w=12.34", 1234)]
    [InlineData(".5", 50)]
    [InlineData("5.", 500)]
    [InlineData("1.234E+01", 1234)]
    [InlineData("  7 , ", 700)]
    public void Reads_numbers_as_devices_print_them(string line, int counts)
    {
        LineReading reading = LineParser.Read(Grams, line);
        Assert.Equal(LineKind.Reading, reading.Kind);
        Assert.Equal(counts, reading.Counts);
    }

    [Theory]
    [InlineData("12.3abc4", "text in the number")]
    [InlineData("12..3", "text in the number")]
    [InlineData("1 2", "text in the number")]
    [InlineData("--3", "not a number")]
    [InlineData("nan", "not a number")]
    [InlineData("OVERLOAD", "not a number")]
    [InlineData("9.91E37", "no number")]
    [InlineData("9.9E+37", "over range")]
    [InlineData("12 N", "is in N, but grams are set")]
    [InlineData("12.3 lb", "is in lb, but grams are set")]
    [InlineData("12:30:01", "text in the number")]
    [InlineData(",5", "it is empty")]
    public void Says_what_is_wrong_with_a_line(string line, string words)
    {
        LineReading reading = LineParser.Read(Grams, line);
        Assert.Equal(LineKind.Refused, reading.Kind);
        Assert.Contains(words, reading.Why);
    }

    [Fact]
    public void Takes_a_decimal_comma_only_where_it_is_set()
    {
        LineFormat comma = Grams with { Separator = ';', DecimalComma = true };
        Assert.Equal(1234, LineParser.Read(comma, "12,34").Counts);
        Assert.Contains("decimal comma is set", LineParser.Read(comma, "12.34").Why);
        Assert.Contains("set the decimal comma", LineParser.Read(comma with { DecimalComma = false }, "12,34").Why);
    }

    [Fact]
    public void A_line_with_another_number_of_columns_was_cut_and_is_refused()
    {
        var format = new LineFormat { Columns = 2, TimeColumn = 1, ForceColumn = 2 };
        Assert.Equal(new LineReading(LineKind.Reading, 8_000, false, 1200, 0), LineParser.Read(format, "1200,8000"));
        Assert.Contains("1 columns instead of 2", LineParser.Read(format, "8000").Why);
        Assert.Contains("3 columns instead of 2", LineParser.Read(format, "1200,80,1213").Why);
    }

    [Fact]
    public void What_does_not_fit_into_24_bits_stands_at_the_end_of_the_range_and_is_marked()
    {
        var counts = new LineFormat();
        Assert.Equal(new LineReading(LineKind.Reading, LineParser.CountsMax, true), LineParser.Read(counts, "16777215"));
        Assert.Equal(new LineReading(LineKind.Reading, -LineParser.CountsMax, true), LineParser.Read(counts, "-1e12"));
    }

    [Fact]
    public void Blanks_are_put_together_where_they_belong_together()
    {
        Assert.Equal(["12.3 g", "17"], LineCells.Of("12.3  g   17", null));
        Assert.Equal(["t:120 ms", "F:-4.5 N"], LineCells.Of("t: 120 ms F: - 4.5 N", null));
        var format = new LineFormat { Separator = null, Quantity = LineQuantity.Newtons, ForceColumn = 2, TimeColumn = 1 };
        Assert.Equal(-4_500, LineParser.Read(format, "t: 120 ms F: - 4.5 N").Counts);
        Assert.Contains("is in us, but milliseconds", LineParser.Read(format, "t: 120 us F: 4.5 N").Why);
    }

    [Fact]
    public void Comments_are_no_readings() => Assert.Equal(LineKind.Comment, LineParser.Read(Grams, "  # 12.3").Kind);

    [Fact]
    public void A_format_that_cannot_be_is_named()
    {
        Assert.Empty(new LineFormat().Problems());
        Assert.Contains("same column", Assert.Single(new LineFormat { TimeColumn = 1 }.Problems()));
        Assert.Contains("both separate", Assert.Single(new LineFormat { DecimalComma = true }.Problems()));
        Assert.Contains("1 to 2", Assert.Single(new LineFormat { Columns = 2, ForceColumn = 3 }.Problems()));
        Assert.Contains("above 0", Assert.Single(new LineFormat { CountsPerUnit = 0 }.Problems()));
        Assert.Contains("cannot separate", Assert.Single(new LineFormat { Separator = '.' }.Problems()));
    }
}
