using RigDaq.Core.Signal;

namespace RigDaq.Core.Tests.Signal;

public sealed class StillWindowTest
{
    private const double Noise = 40;

    [Theory]
    [InlineData(10)]
    [InlineData(80)]
    [InlineData(1000)]
    public void Noise_alone_is_still_nearly_always(int samples)
    {
        int refused = Enumerable.Range(0, 400).Count(seed => !Judge(samples, seed, _ => 0).IsStill);

        // Three standard errors on the slope and on the spread: some 0.3 % each for normal noise, more for few samples.
        Assert.InRange(refused, 0, 12);
    }

    [Fact]
    public void Gives_the_mean() => Assert.InRange(Judge(1000, 1, _ => 5000).Mean, 4995, 5005);

    [Fact]
    public void A_drift_a_swing_and_a_step_are_not_still()
    {
        Assert.Contains("moves", Judge(80, 1, t => 200 * t).Reason, StringComparison.Ordinal);
        Assert.Contains("scatters", Judge(80, 1, t => 200 * Math.Sin(2 * Math.PI * 3 * t)).Reason, StringComparison.Ordinal);
        Assert.False(Judge(80, 1, t => t < 0.5 ? 0 : 300).IsStill);
    }

    [Fact]
    public void Too_few_samples_and_values_that_are_no_numbers_are_not_still()
    {
        Assert.Contains("only 3 samples", Judge(3, 1, _ => 0).Reason, StringComparison.Ordinal);
        Assert.Contains("not a number", Judge(80, 1, _ => double.NaN).Reason, StringComparison.Ordinal);
    }

    private static Stillness Judge(int samples, int seed, Func<double, double> signal)
    {
        var gauss = new Gauss(seed);
        double[] times = [.. Enumerable.Range(0, samples).Select(i => (double)i / samples)];
        return StillWindow.Judge(times, [.. times.Select(time => signal(time) + (Noise * gauss.Next()))], Noise);
    }
}
