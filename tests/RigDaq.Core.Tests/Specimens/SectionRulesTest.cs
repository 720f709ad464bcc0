using RigDaq.Core.Specimens;

namespace RigDaq.Core.Tests.Specimens;

public class SectionRulesTest
{
    private static readonly SectionMeasurement[] Group = [Studies.Flat(10.0, 4.0), Studies.Flat(10.1, 3.95), Studies.Flat(9.95, 4.05)];

    private static readonly Dictionary<string, IReadOnlyList<SectionMeasurement>> Others = new()
    { ["Birch, fan off"] = [Studies.Flat(15.0, 3.0)] };

    [Theory]
    [InlineData(0, 4)]
    [InlineData(10, -4)]
    [InlineData(double.NaN, 4)]
    [InlineData(10, double.PositiveInfinity)]
    public void A_dimension_that_is_not_above_zero_is_refused(double width, double thickness) =>
        Assert.Contains("not above zero", SectionRules.Refusal(Studies.Flat(width, thickness)), StringComparison.Ordinal);

    [Fact]
    public void Nothing_half_and_twice_are_refused()
    {
        Assert.NotNull(SectionRules.Refusal(new SectionMeasurement()));
        Assert.NotNull(SectionRules.Refusal(new SectionMeasurement { WidthsMillimetres = [10] }));
        Assert.NotNull(SectionRules.Refusal(Studies.Flat(10, 4) with { AreaSquareMillimetres = 40 }));
        Assert.NotNull(SectionRules.Refusal(new SectionMeasurement { AreaSquareMillimetres = 0 }));
        Assert.Null(SectionRules.Refusal(Studies.Flat(10, 4)));
    }

    [Theory]
    [InlineData(101, 4, "10.1 mm meant")]
    [InlineData(10, 0.4, "4 mm meant")]
    [InlineData(15.1, 4, "Birch")]
    [InlineData(12, 4, "is it right")]
    [InlineData(4, 10, "exchanged")]
    public void An_unlikely_value_is_asked_about(double width, double thickness, string expected) =>
        Assert.Contains(SectionRules.Questions(Studies.Flat(width, thickness), Group, Others),
            q => q.AsKept().Contains(expected, StringComparison.Ordinal));

    [Fact]
    public void A_likely_value_is_not_asked_about() => Assert.Empty(SectionRules.Questions(Studies.Flat(10.2, 3.9), Group, Others));

    [Fact]
    public void The_first_piece_is_asked_about_only_when_no_specimen_is_so_large_or_so_small()
    {
        Assert.Empty(SectionRules.Questions(Studies.Flat(10, 4), [], Others));
        Assert.Single(SectionRules.Questions(Studies.Flat(700, 4), [], Others));
        Assert.Contains("15.1 mm meant", Assert.Single(SectionRules.Questions(Studies.Flat(151, 4), [], Others)), StringComparison.Ordinal);
        Assert.Single(SectionRules.Questions(Studies.Flat(10, 4) with { WidthsMillimetres = [10, 13] }, [], Others));
    }

    [Fact]
    public void A_study_brings_its_own_groups_to_the_questions() =>
        Assert.Contains(SectionRules.Questions(Studies.Two(3), "A-01", Studies.Flat(99, 4)),
            q => q.AsKept().Contains("9.9 mm meant", StringComparison.Ordinal));
}
