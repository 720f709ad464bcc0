using RigDaq.Core.Statistics;

namespace RigDaq.Core.Tests.Statistics;

/// <summary>Against R 4.2's power.t.test (tools/reference/statistics.R).</summary>
public class PlanningTest
{
    private static readonly PlanQuestion Ten = new() { WithinPrintVariationPercent = 10 };

    [Fact]
    public void The_specimens_that_resolve_one_standard_deviation_are_those_of_power_t_test() =>
        Assert.Equal(17, Planning.SpecimensFor(Ten, prints: 1, differencePercent: 10)); // n = 16.7147

    [Fact]
    public void A_small_difference_at_a_strict_level_needs_those_of_power_t_test() => // n = 332.316 for 0.3 SD, power 0.9, α = 0.01
        Assert.Equal(333, Planning.SpecimensFor(Ten with { ConfidencePercent = 99, Power = 0.9 }, 1, 3));

    [Fact]
    public void What_twenty_specimens_resolve_is_that_of_power_t_test() =>
        Close.Digits(8, 9.09129032682003, Planning.ResolvablePercent(Ten, 1, 20));

    [Fact]
    public void Prints_bound_what_further_specimens_can_do()
    {
        PlanQuestion question = Ten with { BetweenPrintVariationPercent = 5, Groups = 6 };
        double few = Planning.ResolvablePercent(question, 3, 5)!.Value, many = Planning.ResolvablePercent(question, 3, 500)!.Value;
        Assert.True(many < few);

        // Three prints whose means scatter by 5 %: no number of specimens gets below the prints' own t test (power.t.test n = 3 uses
        // 4 degrees of freedom; here 6 groups share 12).
        Assert.Null(Planning.SpecimensFor(question, 3, 5));
        Assert.True(Planning.PrintsFor(question, 10, 5) > 3);
    }

    [Fact]
    public void Three_prints_in_two_groups_are_power_t_test_with_n_of_three() =>
        Close.Digits(8, 3.07089226636009 * 10,
            Planning.ResolvablePercent(new PlanQuestion { WithinPrintVariationPercent = 1e-9, BetweenPrintVariationPercent = 10 }, 3, 1));

    [Fact]
    public void One_specimen_of_one_print_tells_nothing_and_says_so()
    {
        Assert.Null(Planning.ResolvablePercent(Ten, 1, 1));
        Assert.Contains("cannot tell", Planning.Describe(Ten, 1, 1), StringComparison.Ordinal);
        Assert.Contains("9 %", Planning.Describe(Ten, 1, 20), StringComparison.Ordinal);
    }

    [Fact]
    public void More_comparisons_need_more_specimens() =>
        Assert.True(Planning.SpecimensFor(Ten with { Comparisons = 6 }, 1, 10) > Planning.SpecimensFor(Ten, 1, 10));
}
