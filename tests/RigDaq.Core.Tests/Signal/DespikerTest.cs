using RigDaq.Core.Signal;

namespace RigDaq.Core.Tests.Signal;

public sealed class DespikerTest
{
    [Theory]
    [InlineData(8388607)]
    [InlineData(-8388608)]
    [InlineData(0)]
    public void A_single_wild_conversion_on_a_ramp_goes(double wild)
    {
        double[] counts = [.. Enumerable.Range(0, 100).Select(i => 200_000.0 + (i * 900))];
        counts[50] = wild;
        Assert.Equal([50L], Spikes(counts, 40));
    }

    [Fact]
    public void A_conversion_that_was_read_twice_goes_twice()
    {
        double[] counts = [.. Enumerable.Range(0, 100).Select(i => 200_000.0 + (i / 2 * 900))];
        counts[50] = counts[51] = 8388607;
        Assert.Equal([50L, 51L], Spikes(counts, 40));
    }

    [Theory]
    [InlineData(3)]
    [InlineData(5)]
    [InlineData(200)]
    public void The_last_sample_before_a_break_stays(int samples)
    {
        double[] counts = [.. Enumerable.Repeat(0.0, 20), .. Enumerable.Range(1, samples).Select(i => i * 5000.0),
            .. Enumerable.Repeat(0.0, 20)];
        Assert.Empty(Spikes(counts, 40));
    }

    [Fact]
    public void The_top_of_a_sharp_smooth_peak_stays_without_noise()
    {
        double[] counts = [.. Enumerable.Range(0, 50).Select(i => 1000.0 - Math.Abs(25 - i))];
        Assert.Empty(Spikes(counts, 0));
    }

    [Fact]
    public void A_value_that_stands_still_comes_through()
    {
        double[] counts = [.. Enumerable.Repeat(5.0, 50), .. Enumerable.Repeat(9000.0, 50)];
        var despiker = new Despiker(1);
        long taken = 0;
        for (int i = 0; i < counts.Length; i++)
        {
            despiker.Add(i, counts[i]);
            while (despiker.TryTake(out _)) taken++;

            // The stated look-ahead: never more than four samples wait.
            Assert.InRange(i + 1 - taken, 0, Despiker.RepeatsMax);
        }

        despiker.Flush();
        while (despiker.TryTake(out _)) taken++;
        Assert.Equal(counts.Length, taken);
        Assert.Equal(0, despiker.Removed);
    }

    [Fact]
    public void Noise_alone_is_left_alone()
    {
        var gauss = new Gauss(11);
        double[] counts = [.. Enumerable.Range(0, 200_000).Select(_ => Math.Round(40 * gauss.Next()))];
        Assert.Empty(Spikes(counts, 40));
    }

    private static long[] Spikes(double[] counts, double noise)
    {
        var despiker = new Despiker(noise);
        var spikes = new List<long>();
        for (int i = 0; i < counts.Length; i++)
        {
            despiker.Add(i * 0.001, counts[i]);
            while (despiker.TryTake(out DespikedSample sample))
            {
                if (sample.IsSpike) spikes.Add(sample.Index);
            }
        }

        return [.. spikes];
    }
}
