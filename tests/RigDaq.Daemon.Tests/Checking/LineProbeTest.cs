using System.Globalization;
using System.Text.Json;
using RigDaq.App.Checking;
using RigDaq.App.Configuration;
using RigDaq.App.Rigs;
using RigDaq.Rig.PlainDevices;

namespace RigDaq.Daemon.Tests.Checking;

public sealed class LineProbeTest
{
    private static readonly FirstLines Stamped = Seen(i => $"{i * 100},{84_000 + (i * 7 % 11)}");

    [Fact]
    public void Proposes_a_configuration_that_can_be_written_as_it_is_and_then_is_in_order()
    {
        Finding proposed = LineProbe.Judge(new SerialOptions(), Stamped);
        Assert.False(proposed.InOrder);
        Assert.Contains("column 1 only rises", proposed.Text);
        string file = Path.GetTempFileName();
        try
        {
            File.WriteAllText(file, proposed.Configuration!.ToJsonString());
            SerialOptions read = OptionsReader.Read(file, new Dictionary<string, string>()).Serial;
            Assert.Equal("lines", read.Speaks);
            Finding after = LineProbe.Judge(read, Stamped);
            Assert.True(after.InOrder, after.Text);
            Assert.Equal(new LineFormat { Columns = 2, ForceColumn = 2, TimeColumn = 1 }, DeviceLine.PlainDevice(read, "/dev/x")!.Format);
        }
        finally
        {
            File.Delete(file);
        }
    }

    [Fact]
    public void Every_format_comes_back_from_its_written_form()
    {
        LineFormat[] formats =
        [
            new(),
            new() { Separator = null, Columns = 3, ForceColumn = 2, TimeColumn = 1, TimeUnit = LineTimeUnit.Microseconds },
            new() { Separator = ';', DecimalComma = true, Quantity = LineQuantity.Kilograms, CountsPerUnit = 1e5, CommentPrefix = "%" },
            new() { Separator = '\t', Quantity = LineQuantity.Newtons },
            new() { Separator = '|', Quantity = LineQuantity.Grams },
        ];
        foreach (LineFormat format in formats)
        {
            LineOptions options = JsonSerializer.Deserialize<LineOptions>(LineOptions.ToJson(format).ToJsonString(),
                JsonSerializerOptions.Web)!;
            Assert.Equal(format, options.ToFormat());
        }
    }

    [Fact]
    public void A_format_that_does_not_read_the_lines_is_not_in_order_and_another_is_proposed()
    {
        var serial = new SerialOptions { Speaks = "lines", Lines = new LineOptions { Quantity = "newtons" } };
        Finding finding = LineProbe.Judge(serial, Seen(i => string.Create(CultureInfo.InvariantCulture, $"{i % 7}.5 g")));
        Assert.False(finding.InOrder);
        Assert.Contains("0 % of them", finding.Text);
        Assert.Contains("grams", finding.Configuration!.ToJsonString());
    }

    [Fact]
    public void Says_that_nothing_came_or_that_it_is_no_text()
    {
        Assert.Contains("nothing arrived", LineProbe.Judge(new SerialOptions(), new FirstLines([], 0, 0, TimeSpan.Zero)).Text);
        Assert.Contains("baud rate differs",
            LineProbe.Judge(new SerialOptions(), new FirstLines([], 900, 12, TimeSpan.FromSeconds(4))).Text);
    }

    private static FirstLines Seen(Func<int, string> line)
        => new([.. Enumerable.Range(0, 40).Select(line)], 400, 0, TimeSpan.FromSeconds(4));
}
