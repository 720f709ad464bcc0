using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;

namespace RigDaq.Core.Tests.Statistics;

/// <summary>Plans by the model that answers: degrees of freedom and figures of the balanced design.</summary>
public class PlanOutlookTest
{
    // Three materials, two conditions, four settings on every print: 24 groups, 6 families.
    private static readonly PlanQuestion Design = new()
    {
        WithinPrintVariationPercent = 6,
        BetweenPrintVariationPercent = 3,
        Groups = 24,
        Settings = 4,
        Comparisons = 12
    };

    // Found with R and lmerTest for this design without a scatter of stretches: 16.8 % for two prints of ten, 12.5 % for three of seven;
    // Satterthwaite's df about 9.7.
    [Theory]
    [InlineData(2, 10, 16.8)]
    [InlineData(3, 7, 12.5)]
    public void Prints_that_hold_all_settings_bring_their_degrees_of_freedom_once(int prints, int specimens, double percent) =>
        Assert.Equal(percent, Planning.ResolvablePercent(Design, prints, specimens)!.Value, 0.1);

    [Fact]
    public void Degrees_of_freedom_are_those_of_the_strata()
    {
        Assert.Equal(6, PlanContrast.Averaged(Design, 2, 10)!.Value.DegreesOfFreedom, 9);
        Assert.Equal(18, PlanContrast.DropOff(Design, 2, 10)!.Value.DegreesOfFreedom, 9);
        Assert.InRange(PlanContrast.AtASetting(Design, 2, 10)!.Value.DegreesOfFreedom, 9, 10.5);
        Assert.Equal(Math.Sqrt(4 * 3.6 / 2), PlanContrast.DropOffDifference(Design, 2, 10)!.Value.StandardErrorPercent, 9);
    }

    [Fact]
    public void Every_kind_of_question_has_an_outlook_and_a_second_print_is_worth_more_than_its_specimens()
    {
        IReadOnlyList<PlanOutlook> outlooks = PlanOutlooks.Of(Design with { StretchVariationPercent = 1.5, Comparisons = 1 }, 2, 10);
        Assert.Equal(QuestionNames.All.Where(q => q != QuestionNames.NotPrintable).Order(), outlooks.Select(o => o.Question).Order());
        Assert.All(outlooks, o => Assert.InRange(o.ResolvablePercent!.Value, 1, 60));

        // √(2·(9 + 2.25 + 1.8)) = 5.11 and √(2·(9 + 2.25 + 3.6)/2) = 3.85, times 1.96.
        string gain = PlanOutlooks.TwoPrintsForOne(Design with { StretchVariationPercent = 1.5, Comparisons = 1 }, 20)!;
        Assert.Contains("±8 % instead of ±10 %", gain, StringComparison.Ordinal);
    }
}
