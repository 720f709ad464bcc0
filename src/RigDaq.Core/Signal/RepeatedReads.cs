namespace RigDaq.Core.Signal;

/// <summary>Counts conversions in a stream of samples: a converter that is read more often than it converts gives equal values in a row.
/// Sample by sample, nothing allocated.</summary>
internal struct RepeatedReads
{
    // Noise makes neighbours equal now and then, and a cell at its end stands still; only a converter that is read too often
    // makes so large a share of all values come twice or more.
    private const double RepeatedShare = 0.4;

    private const int SamplesMin = 12;

    // Where most steps are one increment, the converter is a coarse one, and equal values in a row are measurements.
    private const double CoarseTimes = 1.5;

    // A value that stays for more than twice the usual number of reads is no conversion's: something stands still.
    private const int UsualRunsMax = 2;

    private double _value;
    private int _run;
    private int _samples;
    private int _conversions;
    private int _twice;
    private double _smallest;
    private int _nearSmallest;

    /// <summary>Takes one sample.</summary>
    /// <param name="value">Finite.</param>
    /// <returns>Whether it differs from the one before it.</returns>
    public bool Add(double value)
    {
        _samples++;
        double step = Math.Abs(value - _value);
        if (_conversions > 0 && step == 0)
        {
            if (++_run == 2) _twice++;
            return false;
        }

        if (_conversions > 0) CountStep(step);
        _value = value;
        _run = 1;
        _conversions++;
        return true;
    }

    /// <summary>Whether equal values in a row are one conversion; before a dozen samples they are not.</summary>
    public readonly bool AreOneConversion => _samples >= SamplesMin && _conversions >= SamplesMin / 2
        && _twice >= RepeatedShare * _conversions && 2 * _nearSmallest < _conversions - 1;

    /// <summary>Whether the newest value has been read for longer than any conversion lasts.</summary>
    public readonly bool StandsStill => _run > UsualRunsMax * ((_samples / (double)_conversions) + 1);

    private void CountStep(double step)
    {
        if (_nearSmallest == 0 || CoarseTimes * step < _smallest) (_smallest, _nearSmallest) = (step, 1);
        else if (step <= CoarseTimes * _smallest) (_smallest, _nearSmallest) = (Math.Min(step, _smallest), _nearSmallest + 1);
    }
}
