using RigDaq.Core.Quantities;
using RigDaq.Reports.Text;

namespace RigDaq.Reports.Tests.Text;

public sealed class FigureAndUnitTest
{
    [Fact]
    public void A_figure_stays_with_its_unit() =>
        Assert.Equal(["weaker", "by", "21 %", "(15", "to", "27 %,", "95 %", "interval),", "that", "is", "6.0 MPa", "at", "220 °C"],
            FigureAndUnit.Words("weaker by 21 % (15 to 27 %, 95 % interval), that is 6.0 MPa at 220 °C"));

    // Whoever adds a unit is told of the two places here.
    [Fact]
    public void Every_unit_that_may_be_chosen_is_joined_to_its_figure_and_has_its_words()
    {
        foreach (Unit unit in Units.Forces.Concat(Units.Stresses).Concat(Units.Lengths)) Assert.Equal($"1\u00a0{unit.Symbol}",
            FigureAndUnit.Joined($"1 {unit.Symbol}"));
        Units[] chosen =
        [
            .. Units.Forces.Select(unit => Units.Si with { Force = unit }),
                .. Units.Stresses.Select(unit => Units.Si with { Stress = unit }),
            .. Units.Lengths.Select(unit => Units.Si with { Length = unit }),
        ];
        foreach (Units units in chosen)
        {
            string changed = new[] { units.Force, units.Stress, units.Length }.FirstOrDefault(unit => !unit.IsStored)?.Symbol ?? "";
            Assert.Equal(changed.Length == 0, ReportText.ShownInUnits(units) is null);
            Assert.Contains(changed, ReportText.ShownInUnits(units) ?? "", StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("5 Nights", "5 Nights")]
    [InlineData("12 N, 3 mm² and 4 N/mm", "12\u00a0N, 3\u00a0mm² and 4\u00a0N/mm")]
    public void Only_a_unit_is_joined(string text, string joined) => Assert.Equal(joined, FigureAndUnit.Joined(text));
}
