using RigDaq.Core.Signal;

namespace RigDaq.Core.Tests.Signal;

/// <summary>The middle of values is what sorting puts there (the definition), whatever their order and however many are equal.</summary>
public sealed class MedianTest
{
    public static TheoryData<string> Orders => ["as drawn", "rising", "falling", "few values", "one value", "an organ's pipes", "no numbers"];

    [Theory]
    [MemberData(nameof(Orders))]
    public void Is_what_sorting_puts_in_the_middle(string order)
    {
        var random = new Random(3);
        foreach (int count in Enumerable.Range(1, 80).Append(1_000).Append(1_001).Append(20_000))
        {
            double[] values = [.. Enumerable.Range(0, count).Select(i => order switch
            {
                "rising" => i,
                "falling" => -i,
                "few values" => random.Next(4),
                "one value" => 7,
                "an organ's pipes" => Math.Min(i, count - i),
                "no numbers" => random.Next(10) == 0 ? double.NaN : random.NextDouble(),
                _ => random.NextDouble(),
            })];
            double[] sorted = [.. values.Order()];
            double middle = count % 2 == 1 ? sorted[count / 2] : (sorted[(count / 2) - 1] + sorted[count / 2]) / 2;
            Assert.Equal(middle, Median.Of(values));
        }
    }

    [Fact]
    public void Of_nothing_there_is_none() => Assert.True(double.IsNaN(Median.Of([])));
}
