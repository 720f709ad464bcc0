namespace RigDaq.Core.Signal;

/// <summary>
/// A least-squares polynomial of low degree over a window of samples, in polynomials that are orthogonal over the samples' own
/// times (Forsythe 1957, J. SIAM 5(2), 74-88): no normal equations, each coefficient independent of the others, so that one pass tells
/// whether the next degree is needed.
/// </summary>
internal sealed class LocalPolynomial
{
    /// <summary>The greatest degree.</summary>
    public const int DegreeMax = 4;

    private readonly double[] _alpha = new double[DegreeMax + 1];
    private readonly double[] _beta = new double[DegreeMax + 1];
    private readonly double[] _coefficient = new double[DegreeMax + 1];
    private readonly double[] _norm = new double[DegreeMax + 1];
    private double _centre;
    private double _scale = 1;
    private double[] _previous = [];
    private double[] _current = [];

    /// <summary>How many samples the window holds.</summary>
    public int Count { get; private set; }

    /// <summary>The sum of squared residuals about the polynomial of degree 2 (or less, for few samples).</summary>
    public double ResidualSquares { get; private set; }

    /// <summary>The degree that was fitted: at most the count of distinct times less one.</summary>
    public int Degree { get; private set; }

    /// <summary>Fits the samples from <paramref name="first"/> to <paramref name="last"/>, both in.</summary>
    public void Fit(double[] times, double[] values, int first, int last)
    {
        Count = last - first + 1;
        if (_previous.Length < Count)
        {
            _previous = new double[Count * 2];
            _current = new double[Count * 2];
        }

        _centre = (times[first] + times[last]) / 2;
        _scale = Math.Max((times[last] - times[first]) / 2, double.Epsilon);
        double total = 0;
        for (int i = 0; i < Count; i++)
        {
            _previous[i] = 0;
            _current[i] = 1;
            total += values[first + i] * values[first + i];
        }

        Array.Clear(_coefficient);
        Array.Clear(_norm);
        double[] residuals = new double[Count];
        Array.Copy(values, first, residuals, 0, Count);
        ResidualSquares = total;
        Degree = 0;
        for (int degree = 0; degree <= DegreeMax; degree++)
        {
            double norm = 0, product = 0, shift = 0;
            for (int i = 0; i < Count; i++)
            {
                double p = _current[i];
                double x = (times[first + i] - _centre) / _scale;
                norm += p * p;
                shift += x * p * p;
                product += p * residuals[i];
            }

            // Too few distinct times for this degree: rounding is all that is left of its polynomial.
            if (norm < 1e-10 || degree >= Count) return;
            Degree = degree;
            _norm[degree] = norm;
            _coefficient[degree] = product / norm;
            _alpha[degree] = shift / norm;
            _beta[degree] = degree == 0 ? 0 : norm / _norm[degree - 1];
            double squares = 0;
            for (int i = 0; i < Count; i++)
            {
                double x = (times[first + i] - _centre) / _scale;
                residuals[i] -= _coefficient[degree] * _current[i];
                squares += residuals[i] * residuals[i];
                double next = ((x - _alpha[degree]) * _current[i]) - (_beta[degree] * _previous[i]);
                _previous[i] = _current[i];
                _current[i] = next;
            }

            if (degree <= 2) ResidualSquares = squares;
        }
    }

    /// <summary>The share of the signal that degree <paramref name="degree"/> adds, in standard deviations of its own scatter.</summary>
    /// <param name="degree">0 to <see cref="DegreeMax"/>.</param>
    /// <param name="sigma">The standard deviation of the noise of a sample, above 0.</param>
    public double Significance(int degree, double sigma) => _coefficient[degree] * Math.Sqrt(_norm[degree]) / sigma;

    /// <summary>The value at a time of the polynomial up to a degree, with the factor from a sample's noise to its own.</summary>
    public (double Value, double NoiseFactor) At(double time, int degree)
    {
        double x = (time - _centre) / _scale;
        double previous = 0, current = 1, value = 0, variance = 0;
        for (int k = 0; k <= Math.Min(degree, Degree); k++)
        {
            value += _coefficient[k] * current;
            variance += current * current / _norm[k];
            (previous, current) = (current, ((x - _alpha[k]) * current) - (_beta[k] * previous));
        }

        return (value, Math.Sqrt(variance));
    }

    /// <summary>What the terms above a degree could add at a time: each as large as it was measured, or as its own scatter where that is
    /// more.</summary>
    /// <param name="time">Where.</param>
    /// <param name="above">The degree that was used.</param>
    /// <param name="to">The last degree that is counted.</param>
    /// <param name="sigma">The standard deviation of a sample's noise.</param>
    public double Neglected(double time, int above, int to, double sigma)
    {
        double x = (time - _centre) / _scale;
        double previous = 0, current = 1, squares = 0;
        for (int k = 0; k <= Math.Min(to, Degree); k++)
        {
            if (k > above) squares += current * current * Math.Max(_coefficient[k] * _coefficient[k], sigma * sigma / _norm[k]);
            (previous, current) = (current, ((x - _alpha[k]) * current) - (_beta[k] * previous));
        }

        return Math.Sqrt(squares);
    }

    /// <summary>What the terms above a degree add at a time as they were measured: their scatter is in it on average.</summary>
    public double NeglectedSeen(double time, int above) => Neglected(time, above, DegreeMax, 0);

    /// <summary>The slope at a time of the polynomial up to degree 1 or 2, per second.</summary>
    public double SlopeAt(double time, int degree)
    {
        double slope = Degree >= 1 ? _coefficient[1] : 0;
        double x = (time - _centre) / _scale;
        if (degree >= 2 && Degree >= 2) slope += _coefficient[2] * ((2 * x) - _alpha[0] - _alpha[1]);
        return slope / _scale;
    }

    /// <summary>The standard deviation of that slope for a noise of one.</summary>
    public double SlopeNoiseFactorAt(double time, int degree)
    {
        if (Degree < 1) return double.PositiveInfinity;
        double variance = 1 / _norm[1];
        double x = (time - _centre) / _scale;
        if (degree >= 2 && Degree >= 2)
        {
            double lever = (2 * x) - _alpha[0] - _alpha[1];
            variance += lever * lever / _norm[2];
        }

        return Math.Sqrt(variance) / _scale;
    }

    /// <summary>The second derivative of the parabola, per second squared.</summary>
    public double Curvature => Degree >= 2 ? 2 * _coefficient[2] / (_scale * _scale) : 0;

    /// <summary>Where the parabola has its maximum; null where it has none.</summary>
    public double? Vertex()
    {
        if (Degree < 2 || _coefficient[2] >= 0) return null;
        double x = (_alpha[0] + _alpha[1] - (_coefficient[1] / _coefficient[2])) / 2;
        return _centre + (_scale * x);
    }
}
