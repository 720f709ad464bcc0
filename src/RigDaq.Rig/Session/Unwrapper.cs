namespace RigDaq.Rig.Session;

/// <summary>Makes a rising 64-bit count of a 32-bit one that wraps. Steps back of less than half the range are kept as steps
/// back.</summary>
internal struct Unwrapper
{
    private bool _started;
    private uint _lastWrapped;
    private long _last;

    /// <summary>The next value.</summary>
    public long Next(uint wrapped)
    {
        _last = _started ? _last + unchecked((int)(wrapped - _lastWrapped)) : wrapped;
        _lastWrapped = wrapped;
        _started = true;
        return _last;
    }
}
