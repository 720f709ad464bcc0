using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Core.Trace;

namespace RigDaq.Core.Tests.Signal;

/// <summary>Few conversions tell little of a noise. Tables: Student's t and chi-square as printed in NIST's e-Handbook, 1.3.6.7.2 and
/// 1.3.6.7.4.</summary>
public sealed class SmallSampleTest
{
    [Theory]
    [InlineData(5, 2.776, 0.711)]
    [InlineData(10, 2.262, 3.325)]
    [InlineData(15, 2.145, 6.571)]
    [InlineData(25, 2.064, 13.848)]
    public void Widens_by_the_printed_tables(int values, double student, double chiSquareLower)
    {
        Assert.Equal(student / 1.960, SmallSample.StudentFactor(values), 1e-3);
        Assert.Equal(Math.Sqrt((values - 1) / chiSquareLower), SmallSample.UpperFactor(values), 1e-3);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(30)]
    [InlineData(4000)]
    public void Leaves_many_or_unknown_as_they_are(int values)
        => Assert.Equal((1.0, 1.0), (SmallSample.StudentFactor(values), SmallSample.UpperFactor(values)));

    [Theory]
    [InlineData(7)]
    [InlineData(14)]
    public void A_zero_of_few_conversions_makes_no_load_drops_of_noise(int zeroSamples)
    {
        // A soft specimen at 14 conversions a second: noise 0.04 N, so that 2 % of its 5 N are 2.5 of its deviations only.
        const double Noise = 0.04;
        int withDrops = 0, believed = 0;
        for (int seed = 0; seed < 400; seed++)
        {
            var gauss = new Gauss(seed);
            double[] zero = [.. Enumerable.Range(0, zeroSamples).Select(_ => Noise * gauss.Next())];
            double[] times = [.. Enumerable.Range(0, 280).Select(i => i / 14.0)];
            double[] forces =
                [.. times.Select(time => (time < 2 ? 0 : time < 17 ? 5 * Math.Tanh((time - 2) / 4) : 0) + (Noise * gauss.Next()))];
            int Drops(int samples) => TraceAnalysis.Read(
                new ForceTrace { TimesSeconds = times, ForcesNewtons = forces }, new DetectionSettings(),
                new KnownZero(0, NoiseEstimate.Of(zero).Deviation, samples)).LoadDrops.Count;
            if (Drops(zeroSamples) > 0) withDrops++;
            if (Drops(0) > 0) believed++;
        }

        TestContext.Current.TestOutputHelper!.WriteLine($"{zeroSamples} conversions: {withDrops} of 400 traces with a drop, {believed} where the deviation is believed");
        Assert.InRange(withDrops, 0, 2);
    }
}
