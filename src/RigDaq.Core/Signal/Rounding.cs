namespace RigDaq.Core.Signal;

/// <summary>
/// Finds the step that values come in: a converter's increment, or the digits of a display or a file. Where the digits are few the step is
/// larger for larger values, so each decade has its own.
/// </summary>
internal sealed class Rounding
{
    // Fewer values than this tell no step, nor do values of which more than this share is no multiple of it.
    private const int ValuesMin = 8;
    private const double OffShareMax = 0.02;

    // What a multiple may be off, in steps: decimal digits have none but for their binary fractions. Even steps of a ramp are off by more.
    private const double OffMax = 1e-4;

    private readonly Dictionary<int, double> _steps;
    private readonly double[] _values;

    private Rounding(Dictionary<int, double> steps, double[] values) => (_steps, _values) = (steps, values);

    /// <summary>Looks at values as they were given, before any zero is taken off.</summary>
    public static Rounding Of(ReadOnlySpan<double> values)
    {
        var differences = new Dictionary<int, List<double>>();
        var decades = new Decades();
        int before = values.Length > 0 ? decades.Of(values[0]) : 0;
        for (int i = 1; i < values.Length; i++)
        {
            int decade = decades.Of(values[i]);
            bool isSame = decade == before;
            before = decade;
            double step = Math.Abs(values[i] - values[i - 1]);
            if (step == 0 || !isSame || step < 1e-12 * Math.Abs(values[i])) continue;
            if (!differences.TryGetValue(decade, out List<double>? list)) differences[decade] = list = [];
            list.Add(step);
        }

        return new Rounding(differences.ToDictionary(pair => pair.Key, pair => StepOf(pair.Value)), values.ToArray());
    }

    /// <summary>The step near a value; 0 where none was found.</summary>
    public double StepAt(double value)
    {
        int decade = Decade(value);
        if (_steps.GetValueOrDefault(decade) is > 0 and var step) return step;

        // A decade of few values: so many digits as the one below, or so many decimals, whichever its values are multiples of.
        if (!(_steps.GetValueOrDefault(decade - 1) is > 0 and var below)) return 0;
        double tenfold = 10 * below;
        return _steps[decade] = _values.All(one => Decade(one) != decade || Math.Abs((one / tenfold) - Math.Round(one / tenfold)) <= OffMax)
            ? tenfold : below;
    }

    /// <summary>
    /// The step of values that stand near zero: a display's or a converter's is the same there, few digits are finer. So it is no
    /// coarser than the smallest change between two of them, nor than in any other decade.
    /// </summary>
    /// <param name="still">The values, as they were given.</param>
    /// <param name="step">The step elsewhere.</param>
    public double StepWithin(ReadOnlySpan<double> still, double step)
    {
        double finest = step;
        foreach (double one in _steps.Values)
        {
            if (one > 0) finest = Math.Min(finest, one);
        }

        for (int i = 1; i < still.Length; i++)
        {
            double change = Math.Abs(still[i] - still[i - 1]);
            if (change > 0) finest = Math.Min(finest, change);
        }

        return finest;
    }

    private static double StepOf(List<double> differences)
    {
        if (differences.Count < ValuesMin) return 0;
        double smallest = differences.Min();
        int off = differences.Count(step => Math.Abs((step / smallest) - Math.Round(step / smallest)) > OffMax);
        return off <= OffShareMax * differences.Count ? smallest : 0;
    }

    private static int Decade(double value) => value == 0 ? int.MinValue : (int)Math.Floor(Math.Log10(Math.Abs(value)) + 1e-9);

    /// <summary>The decades of values one after another: what lies between two values of one decade needs no logarithm.</summary>
    private struct Decades
    {
        private double _smallest = double.PositiveInfinity;
        private double _greatest = double.NegativeInfinity;
        private int _decade;

        public Decades()
        {
        }

        public int Of(double value)
        {
            double size = Math.Abs(value);
            if (size >= _smallest && size <= _greatest) return _decade;
            int decade = Decade(value);
            bool isSame = decade == _decade;
            (_smallest, _greatest) = isSame ? (Math.Min(_smallest, size), Math.Max(_greatest, size)) : (size, size);
            return _decade = decade;
        }
    }
}
