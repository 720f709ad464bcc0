using RigDaq.Corpus;

namespace RigDaq.Core.Tests.Signal;

public sealed class LowPassTest
{
    // SciPy 1.10.1 (Debian python3-scipy 1.10.1-2), signal.butter and signal.freqz: tools/reference/signal-butterworth.py.
    [Theory]
    [InlineData(5, 80, 0.02995458220809247, 0.05990916441618494, 0.02995458220809247, -1.454243586251585, 0.5740619150839549,
        0.9999525064377444, 0.7071067811865476, 0.22471062223082414)]
    [InlineData(10, 320, 0.008442692929079948, 0.016885385858159897, 0.008442692929079948, -1.723776172762509, 0.7575469444788288,
        0.9999506371831568, 0.7071067811865467, 0.23812096243217556)]
    [InlineData(20, 1000, 0.0036216815149286417, 0.007243363029857283, 0.0036216815149286417, -1.822694925196308, 0.8371816512560226,
        0.9999502638320347, 0.7071067811865481, 0.24073085396784147)]
    [InlineData(50, 4000, 0.0014603163055277345, 0.002920632611055469, 0.0014603163055277345, -1.8890330793945245, 0.8948743446166354,
        0.9999501054481477, 0.7071067811865457, 0.24183121457954687)]
    [InlineData(100, 1000, 0.06745527388907192, 0.13491054777814385, 0.06745527388907192, -1.1429805025399011, 0.41280159809618877,
        0.9999562469353823, 0.7071067811865478, 0.19611613513818407)]
    [InlineData(400, 1000, 0.6389455251590223, 1.2778910503180445, 0.6389455251590223, 1.1429805025399007, 0.41280159809618844,
        0.9999985806461787, 0.7071067811865474, 0.23117788596643202)]
    public void Has_SciPys_coefficients_and_response(
        double cutoff, double rate, double b0, double b1, double b2, double a1, double a2, double lowResponse, double cutoffResponse,
            double highResponse)
    {
        var filter = new LowPass(cutoff, rate);
        Assert.Equal([b0, b1, b2], filter.Numerator, Near);
        Assert.Equal([1, a1, a2], filter.Denominator, Near);
        Assert.Equal(lowResponse, Response(filter, cutoff / 10 / rate), 1e-9);
        Assert.Equal(cutoffResponse, Response(filter, cutoff / rate), 1e-9);
        Assert.Equal(highResponse, Response(filter, Math.Min(2 * cutoff, 0.45 * rate) / rate), 1e-9);
    }

    [Fact]
    public void Answers_a_step_as_SciPys_lfilter_does()
    {
        // SciPy 1.10.1: lfilter(butter(2, 20, fs=1000), ones(20)) at samples 0, 4, 9, 19; the filter there starts from 0.
        var filter = new LowPass(20, 1000);
        filter.Next(0);
        double[] step = [.. Enumerable.Range(0, 20).Select(_ => filter.Next(1))];
        Assert.Equal([0.0036216815149286417, 0.12181751598307537, 0.3930531529115884, 0.8545399661032865],
            [step[0], step[4], step[9], step[19]], Near);
    }

    [Fact]
    public void Starts_settled_on_its_first_value_and_passes_over_what_is_no_number()
    {
        var filter = new LowPass(20, 1000);
        Assert.All(Enumerable.Range(0, 50), _ => Assert.Equal(700, filter.Next(700), 1e-9));
        Assert.Equal(700, filter.Next(double.NaN), 1e-9);
        Assert.Equal(700, filter.Next(700), 1e-9);
    }

    [Theory]
    [InlineData(0, 1000)]
    [InlineData(500, 1000)]
    [InlineData(double.NaN, 1000)]
    [InlineData(10, double.PositiveInfinity)]
    public void Refuses_a_cut_off_out_of_range(double cutoff, double rate) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new LowPass(cutoff, rate));

    private static bool Near(double a, double b) => Math.Abs(a - b) < 1e-12;

    private static double Response(LowPass filter, double frequency)
    {
        System.Numerics.Complex delay = System.Numerics.Complex.FromPolarCoordinates(1, -2 * Math.PI * frequency);
        System.Numerics.Complex above = filter.Numerator[0] + (delay * (filter.Numerator[1] + (delay * filter.Numerator[2])));
        System.Numerics.Complex below = 1 + (delay * (filter.Denominator[1] + (delay * filter.Denominator[2])));
        return (above / below).Magnitude;
    }
}
