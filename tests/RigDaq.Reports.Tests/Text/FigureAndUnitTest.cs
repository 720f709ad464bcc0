using RigDaq.Reports.Text;

namespace RigDaq.Reports.Tests.Text;

public sealed class FigureAndUnitTest
{
    [Fact]
    public void A_figure_stays_with_its_unit() =>
        Assert.Equal(["weaker", "by", "21 %", "(15", "to", "27 %,", "95 %", "interval),", "that", "is", "6.0 MPa", "at", "220 °C"],
            FigureAndUnit.Words("weaker by 21 % (15 to 27 %, 95 % interval), that is 6.0 MPa at 220 °C"));

    [Theory]
    [InlineData("5 Nights", "5 Nights")]
    [InlineData("12 N, 3 mm² and 4 N/mm", "12\u00a0N, 3\u00a0mm² and 4\u00a0N/mm")]
    public void Only_a_unit_is_joined(string text, string joined) => Assert.Equal(joined, FigureAndUnit.Joined(text));
}
