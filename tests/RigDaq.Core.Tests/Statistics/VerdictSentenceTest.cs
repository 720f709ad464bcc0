using RigDaq.Core.Comparisons;
using RigDaq.Core.Groups;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;

namespace RigDaq.Core.Tests.Statistics;

public class VerdictSentenceTest
{
    [Fact]
    public void A_difference_says_which_how_much_how_sure_and_in_what() => Assert.Equal(
        "Alder, 210: off is stronger than on by 10 % (5 to 16 %, 95 % interval), that is 3.9 MPa (1.8 to 6.0 MPa). "
        + "This concerns the one print of each that was broken; other prints may differ.",
        Sentence([38.1, 37.4, 39.0], [42.0, 43.1, 41.1]));

    [Fact]
    public void A_weaker_one_is_told_as_weaker_with_figures_the_right_way_round() =>
        Assert.StartsWith("Alder, 210: off is weaker than on by 9 % (4 to 14 %, 95 % interval)",
            Sentence([42.0, 43.1, 41.1], [38.1, 37.4, 39.0]), StringComparison.Ordinal);

    [Fact]
    public void Equivalence_names_the_margin() => Assert.StartsWith(
        "Alder, 210: off is as strong as on within ±5 %; the difference came out at 0.2 %",
            Sentence([38.0, 38.2, 38.1, 38.3], [38.1, 38.3, 38.2, 38.3]), StringComparison.Ordinal);

    [Fact]
    public void What_was_not_resolved_says_what_could_have_been_seen()
    {
        string sentence = Sentence([38, 42, 35], [40, 44, 36]);
        Assert.Contains("no difference between off and on was resolved", sentence, StringComparison.Ordinal);
        Assert.Contains("would have been seen four times out of five", sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void A_small_difference_that_is_sure_says_that_it_is_within_the_margin() =>
        Assert.Contains("that is less than the margin of 5 % stated beforehand",
            Sentence([38.00, 38.02, 38.01, 38.03], [38.40, 38.42, 38.41, 38.43]), StringComparison.Ordinal);

    [Fact]
    public void Several_prints_are_counted() => Assert.EndsWith(
        "Measured on 3 and 3 prints.",
            Comparer.Compare(ComparerTest.ThreePrintsEach, new ComparisonOptions { ReferenceCondition = "off" }).Comparisons[0].Sentence,
            StringComparison.Ordinal);

    [Fact]
    public void What_holds_alone_but_not_among_many_says_so()
    {
        // Five comparisons with nothing in them, one at p = 0.03 or so.
        var rows = new List<Observation>();
        double[] on = [38.0, 39.0, 40.0, 41.0, 42.0], off = [40.6, 41.4, 42.8, 43.4, 44.6];
        for (int setting = 1; setting <= 6; setting++)
        {
            rows.AddRange(on.Select(v => new Observation(new GroupKey("Alder", "on", setting), "", v)));
            rows.AddRange((setting == 1 ? off : on).Select(v => new Observation(new GroupKey("Alder", "off", setting), "", v)));
        }

        Comparison comparison = Comparer.Compare(rows, new ComparisonOptions { ReferenceCondition = "on" }).Comparisons[0];
        Assert.InRange(comparison.P!.Value, 0.01, 0.05);
        Assert.Equal(Verdicts.NotResolved, comparison.Verdict);
        Assert.Contains("which would stand out alone but does not among 6 comparisons", comparison.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void There_are_no_stars_and_no_bare_p() => Assert.All(
        Comparer.Compare(RData.Observations(RData.PlantGrowth), new ComparisonOptions()).Comparisons,
        c => Assert.DoesNotMatch(@"\*|\bp\b|p =|p <", c.Sentence));

    private static string Sentence(double[] on, double[] off) => Comparer.Compare(
        [
            .. on.Select(v => new Observation(new GroupKey("Alder", "on", 210), "", v)),
            .. off.Select(v => new Observation(new GroupKey("Alder", "off", 210), "", v)),
        ],
        new ComparisonOptions { ReferenceCondition = "on" }).Comparisons[0].Sentence;
}
