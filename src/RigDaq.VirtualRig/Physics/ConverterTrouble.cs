namespace RigDaq.Virtual.Physics;

/// <summary>What a bad converter does to its conversions, on demand.</summary>
internal sealed class ConverterTrouble
{
    private double _stuckUntil = double.NegativeInfinity;
    private double _silentUntil = double.NegativeInfinity;
    private double _endStopUntil = double.NegativeInfinity;
    private double _lowUntil = double.NegativeInfinity;
    private double _starvedUntil = double.NegativeInfinity;
    private int _starvedEvery;
    private int _sinceStarved;
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

    /// <summary>A data line that sits low until a rig time.</summary>
    public void HoldLow(double untilSeconds) => _lowUntil = untilSeconds;

    /// <summary>Whether the data line sits low now.</summary>
    public bool IsLow(double rigSeconds) => rigSeconds < _lowUntil;

    /// <summary>Leaves one in so many out until a rig time.</summary>
    public void Starve(int every, double untilSeconds) => (_starvedEvery, _starvedUntil, _sinceStarved) = (every, untilSeconds, 0);

    /// <summary>Single wild conversions, each after so many good ones, up and down in turn.</summary>
    public void Spike(int count, int counts, int spacing) =>
        (_spikes, _spikeCounts, _spikeSpacing, _toNextSpike) = (count, counts, spacing, spacing);

    /// <summary>The conversion as it is delivered; null where none is.</summary>
    public int? Disturb(int counts, double rigSeconds, int countsMax)
    {
        if (rigSeconds < _silentUntil) return null;
        if (rigSeconds < _starvedUntil && ++_sinceStarved % _starvedEvery == 0) return null;
        if (IsLow(rigSeconds)) return 0;
        if (rigSeconds < _endStopUntil) return countsMax;
        if (rigSeconds < _stuckUntil) return _stuckAt ??= counts;
        if (_spikes == 0 || --_toNextSpike > 0) return counts;
        _toNextSpike = _spikeSpacing;
        _spikes--;
        int sign = _spikes % 2 == 0 ? 1 : -1;
        return Math.Clamp(counts + (sign * _spikeCounts), -countsMax - 1, countsMax);
    }
}
