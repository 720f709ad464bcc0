namespace RigDaq.Core.Mixed;

/// <summary>Which numbers the model lives on.</summary>
internal enum ModelScale
{
    /// <summary>The natural logarithm of strength.</summary>
    Log,

    /// <summary>Strength itself: published examples are on raw scales.</summary>
    Identity,
}
