using RigDaq.App.Input;

namespace RigDaq.Daemon.Tests.Input;

public sealed class CsvTableTest
{
    [Fact]
    public void Skips_comments_and_empty_lines_and_still_counts_them()
    {
        CsvTable table = Read("# recorded on the bench\ntime_s,force_N\n\n0,1.5\n# a pause\n0.1,x\n");
        Assert.Equal(2, table.Rows.Count);
        Assert.Equal(1.5, table.Rows[0].Number("force_N"));
        var fault = Assert.Throws<InputException>(() => table.Rows[1].Number("force_N"));
        Assert.Equal("table.csv, line 6, column force_N: “x” is not a finite number.", fault.Message);
    }

    [Theory]
    [InlineData("a,b\n1,2,5\n", "line 2: 3 cells where the header names 2 columns (a decimal comma? use a point).")]
    [InlineData("a\n1\n", "line 1: the header lacks the column b.")]
    [InlineData("a;b\n1;2\n", "Cells are separated by commas, not semicolons.")]
    [InlineData("a,a,b\n", "line 1: the header names the column a twice.")]
    [InlineData("", "empty; a header line was expected.")]
    public void Names_what_is_wrong_with_a_file(string text, string expected) =>
        Assert.Contains(expected, Assert.Throws<InputException>(() => Read(text, "a", "b")).Message, StringComparison.Ordinal);

    [Theory]
    [InlineData("\"1,5\"", "has a comma; write the number with a decimal point.")]
    [InlineData("NaN", "is not a finite number.")]
    [InlineData("", "empty; a number was expected.")]
    public void Names_what_is_wrong_with_a_number(string cell, string expected)
    {
        CsvRow row = Read($"a,b\n1,{cell}\n").Rows[0];
        Assert.Contains(expected, Assert.Throws<InputException>(() => row.Number("b")).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Says_that_a_file_is_missing() =>
        Assert.Contains("there is no such file", Assert.Throws<InputException>(() => CsvTable.Read("none.csv")).Message,
            StringComparison.Ordinal);

    private static CsvTable Read(string text, params string[] required) => CsvTable.Read("table.csv", new StringReader(text), required);
}
