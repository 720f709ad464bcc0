namespace RigDaq.Virtual.Physics;

/// <summary>What a bad converter does to its conversions, on demand.</summary>
internal sealed class ConverterTrouble
{
    private double _stuckUntil = double.NegativeInfinity;
    private double _silentUntil = double.NegativeInfinity;
    private double _endStopUntil = double.NegativeInfinity;
    private int? _stuckAt;
    private int _spikes;
    private int _spikeCounts;
    private int _spikeSpacing;
    private int _toNextSpike;

    /// <summary>The same count again and again until a rig time.</summary>
    public void Stick(double untilSeconds) => (_stuckUntil, _stuckAt) = (untilSeconds, null);

    /// <summary>No conversion until a rig time.</summary>
    public void Silence(double untilSeconds) => _silentUntil = untilSeconds;

    /// <summary>The end of the range until a rig time, as with a torn wire.</summary>
    public void PinToEnd(double untilSeconds) => _endStopUntil = untilSeconds;

    /// <summary>Single wild conversions, each after so many good ones, up and down in turn.</summary>
    public void Spike(int count, int counts, int spacing) =>
        (_spikes, _spikeCounts, _spikeSpacing, _toNextSpike) = (count, counts, spacing, spacing);

    /// <summary>The conversion as it is delivered; null where none is.</summary>
    public int? Disturb(int counts, double rigSeconds, int countsMax)
    {
        if (rigSeconds < _silentUntil) return null;
        if (rigSeconds < _endStopUntil) return countsMax;
        if (rigSeconds < _stuckUntil) return _stuckAt ??= counts;
        if (_spikes == 0 || --_toNextSpike > 0) return counts;
        _toNextSpike = _spikeSpacing;
        _spikes--;
        int sign = _spikes % 2 == 0 ? 1 : -1;
        return Math.Clamp(counts + (sign * _spikeCounts), -countsMax - 1, countsMax);
    }
}
