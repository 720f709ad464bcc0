using NWaves.Filters.Butterworth;

namespace RigDaq.Corpus;

/// <summary>A Butterworth low-pass of second order, to show what it does to a peak: the program itself has none, for it lowers a sharp
/// one. Designed by NWaves (bilinear transform), run in double precision as a transposed direct form II. It starts settled on its first
/// value. Allocates nothing per sample; not thread-safe.</summary>
public sealed class LowPass
{
    /// <summary>The order.</summary>
    public const int Order = 2;

    private readonly double _b0, _b1, _b2, _a1, _a2;
    private double _z1, _z2;
    private double _last;
    private bool _started;

    /// <summary>Designs a filter.</summary>
    /// <param name="cutoffHertz">Where it has −3 dB, above 0.</param>
    /// <param name="sampleRateHertz">More than twice the cut-off.</param>
    /// <exception cref="ArgumentOutOfRangeException">The cut-off is not between 0 and half the sample rate.</exception>
    public LowPass(double cutoffHertz, double sampleRateHertz)
    {
        if (!(cutoffHertz > 0) || !(cutoffHertz < sampleRateHertz / 2) || !double.IsFinite(sampleRateHertz))
            throw new ArgumentOutOfRangeException(nameof(cutoffHertz), cutoffHertz, $"A cut-off above 0 and below half of {sampleRateHertz} samples/s is needed.");
        NWaves.Filters.Base.TransferFunction design = new LowPassFilter(cutoffHertz / sampleRateHertz, Order).Tf;
        double a0 = design.Denominator[0];
        Numerator = [.. design.Numerator.Select(b => b / a0)];
        Denominator = [.. design.Denominator.Select(a => a / a0)];
        (_b0, _b1, _b2) = (Numerator[0], Numerator[1], Numerator[2]);
        (_a1, _a2) = (Denominator[1], Denominator[2]);
    }

    /// <summary>The coefficients of z⁰, z⁻¹, z⁻² above the line.</summary>
    public IReadOnlyList<double> Numerator { get; }

    /// <summary>The same below the line; the first is 1.</summary>
    public IReadOnlyList<double> Denominator { get; }

    /// <summary>Takes one sample and gives the filtered one.</summary>
    /// <param name="value">A value that is not finite is passed over: the last output comes again.</param>
    public double Next(double value)
    {
        if (!double.IsFinite(value)) return _last;
        if (!_started)
        {
            // As if this value had always been there.
            _started = true;
            _z2 = (_b2 - _a2) * value;
            _z1 = ((_b1 - _a1) * value) + _z2;
        }

        double output = (_b0 * value) + _z1;
        _z1 = (_b1 * value) - (_a1 * output) + _z2;
        _z2 = (_b2 * value) - (_a2 * output);
        _last = output;
        return output;
    }
}
