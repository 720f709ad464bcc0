using RigDaq.Core.Quantities;

namespace RigDaq.Core.Tests.Statistics;

/// <summary>At most two digits of the uncertainty (JCGM 100, 7.2.6).</summary>
public class NumberTextTest
{
    [Theory]
    [InlineData(13.2, 8.1, 18.4, "13", "8", "18")]
    [InlineData(3.94, 1.82, 6.03, "3.9", "1.8", "6.0")]
    [InlineData(0.0123, 0.0101, 0.0147, "0.0123", "0.0101", "0.0147")]
    [InlineData(9.8, 0.06, 20.9, "9.8", "0.1", "20.9")]
    [InlineData(-0.01, -5, 5, "0", "−5", "5")]
    // Tens and hundreds that are not known are not shown either.
    [InlineData(123456, 123000, 124000, "123500", "123000", "124000")]
    public void Digits_follow_the_interval(double value, double low, double high, params string[] expected)
    {
        (string v, string l, string h) = NumberText.Of(value, low, high);
        Assert.Equal(string.Join(' ', expected), $"{v} {l} {h}");
    }
}
