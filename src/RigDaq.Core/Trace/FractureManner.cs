namespace RigDaq.Core.Trace;

/// <summary>How a specimen broke, as its trace tells.</summary>
public enum FractureManner
{
    /// <summary>At its peak, at once.</summary>
    Brittle,

    /// <summary>After its peak, with work done on the way, or by tearing.</summary>
    Ductile,
}
