using System.Globalization;
using RigDaq.Rig.PlainDevices;

namespace RigDaq.Rig.Tests.PlainDevices;

public sealed class LineProposerTest
{
    [Fact]
    public void One_number_a_line_is_counts_without_a_time()
    {
        LineFormat format = Proposed(i => $"{84_213 + (i * 7 % 11)}");
        Assert.Equal(new LineFormat { Separator = format.Separator, Columns = 1 }, format);
    }

    [Fact]
    public void A_column_that_only_rises_is_the_time_and_the_other_the_force()
    {
        LineFormat format = Proposed(i => $"{(i * 100) + 5_000},{-84_213 + (i * 7 % 11)}");
        Assert.Equal((',', 1, 2, LineTimeUnit.Milliseconds), (format.Separator, format.TimeColumn, format.ForceColumn, format.TimeUnit));
        Assert.Equal(LineQuantity.Counts, format.Quantity);
        format = Proposed(i => $"{-84_213 + (i * 7 % 11)}\t{(i * 12_500) + 5_000}");
        Assert.Equal(('\t', 2, 1, LineTimeUnit.Microseconds), (format.Separator, format.TimeColumn, format.ForceColumn, format.TimeUnit));
        format = Proposed(i => string.Create(CultureInfo.InvariantCulture, $"{i * 0.0125:0.0000} {i * 7 % 11}"));
        Assert.Equal((null, 1, 2, LineTimeUnit.Seconds), (format.Separator, format.TimeColumn, format.ForceColumn, format.TimeUnit));
    }

    [Fact]
    public void The_time_that_has_passed_here_tells_the_unit_better_than_the_step()
    {
        // 40 samples/s printed in whole microseconds divided by ten would look like milliseconds by its step.
        string[] lines = [.. Enumerable.Range(0, 40).Select(i => $"{i * 1_500},{i * 7 % 11}")];
        Assert.Equal(LineTimeUnit.Milliseconds, LineProposer.Propose(lines).Format!.TimeUnit);
        LineProposal proposal = LineProposer.Propose(lines, TimeSpan.FromMilliseconds(60));
        Assert.Contains(proposal.Doubts, doubt => doubt.Code == "timeUnitFromStep");
        proposal = LineProposer.Propose(lines, TimeSpan.FromSeconds(0.6));
        Assert.Equal(LineTimeUnit.Microseconds, proposal.Format!.TimeUnit);
        Assert.DoesNotContain(proposal.Doubts, doubt => doubt.Code == "timeUnitFromStep");
    }

    [Theory]
    [InlineData("g", LineQuantity.Grams)]
    [InlineData("kg", LineQuantity.Kilograms)]
    [InlineData("N", LineQuantity.Newtons)]
    public void A_unit_behind_the_number_tells_the_quantity(string unit, LineQuantity quantity)
    {
        LineFormat format = Proposed(i => $"Reading: 1{i % 10}.3 {unit}");
        Assert.Equal(quantity, format.Quantity);
        Assert.Equal(LineKind.Reading, LineParser.Read(format, $"Reading: 12.3 {unit}").Kind);
    }

    [Fact]
    public void A_heading_and_comments_are_understood()
    {
        string[] lines = ["# bench", "time_ms,raw,force_N", .. Enumerable.Range(0, 30).Select(i => $"{i * 100},{i % 3},{i * 7 % 11}.25")];
        LineProposal proposal = LineProposer.Propose(lines);
        Assert.Equal(1, proposal.Format!.TimeColumn);
        Assert.Equal(LineTimeUnit.Milliseconds, proposal.Format.TimeUnit);
        Assert.Equal("#", proposal.Format.CommentPrefix);
        Assert.Contains(proposal.Reasons, reason => reason.Code == "linesAreHeadings");
        Assert.Contains(proposal.Reasons, reason => reason.Code == "linesAreComments");
        lines = ["time_ms,force_N", .. lines[2..].Select(line => line[..line.IndexOf(',')] + line[line.LastIndexOf(',')..])];
        Assert.Equal((2, LineQuantity.Newtons),
            (LineProposer.Propose(lines).Format!.ForceColumn, LineProposer.Propose(lines).Format!.Quantity));
    }

    [Fact]
    public void A_lone_comma_with_steady_decimals_is_a_decimal_comma_and_doubted()
    {
        string[] lines = [.. Enumerable.Range(0, 30).Select(i => $"{12 + (i % 3)},{10 + (i * 7 % 80)}")];
        LineProposal proposal = LineProposer.Propose(lines);
        Assert.True(proposal.Format!.DecimalComma);
        Assert.Equal(100, proposal.Format.CountsPerUnit);
        Assert.Contains(proposal.Doubts, doubt => doubt.Code == "commaMaySeparate");
        LineFormat semicolons = Proposed(i => $"{i * 100};{12 + (i % 3)},{10 + (i * 7 % 80)}");
        Assert.Equal((';', true, 2), (semicolons.Separator, semicolons.DecimalComma, semicolons.ForceColumn));
    }

    [Fact]
    public void A_line_counter_is_no_time()
    {
        LineFormat format = Proposed(i => $"{i},{i * 7 % 11}");
        Assert.Null(format.TimeColumn);
        Assert.Equal(2, format.ForceColumn);
    }

    [Fact]
    public void Says_what_it_cannot_tell()
    {
        Assert.Null(LineProposer.Propose([]).Format);
        LineProposal words = LineProposer.Propose(["hello", "ready", "hello"]);
        Assert.Null(words.Format);
        Assert.Contains("no column of numbers", words.Reasons[^1]);
        LineProposal still = LineProposer.Propose(["7", "7", "7", "7"]);
        Assert.Contains(still.Doubts, doubt => doubt.Code == "numberNeverChanged");
        Assert.Contains(still.Doubts, doubt => doubt.Code == "restsOnFew");
        // An offset-binary converter: the numbers do not fit into 24 signed bits.
        LineProposal offset = LineProposer.Propose([.. Enumerable.Range(0, 30).Select(i => $"{8_400_000 + (i * 7 % 11)}")]);
        Assert.Equal(0.1, offset.Format!.CountsPerUnit);
        Assert.Contains(offset.Doubts, doubt => doubt.Code == "digitsRoundedOff");
    }

    private static LineFormat Proposed(Func<int, string> line)
    {
        LineProposal proposal = LineProposer.Propose([.. Enumerable.Range(0, 40).Select(line)]);
        Assert.NotNull(proposal.Format);
        Assert.Empty(proposal.Format.Problems());
        return proposal.Format;
    }
}
