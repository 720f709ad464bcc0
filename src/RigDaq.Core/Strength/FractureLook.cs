namespace RigDaq.Core.Strength;

/// <summary>What the eye saw of a broken piece, best noted before its strength is shown.</summary>
public sealed record FractureLook
{
    /// <summary>Where it broke.</summary>
    public FractureLocation Location { get; init; }

    /// <summary>Which layer, as counted or described; empty where it was not noted.</summary>
    public string Layer { get; init; } = "";

    /// <summary>How the surface looks, in the person's own words.</summary>
    public string Appearance { get; init; } = "";

    /// <summary>The name under which the archive keeps a photo; null where there is none.</summary>
    public string? PhotoName { get; init; }

    /// <summary>When it was noted.</summary>
    public required DateTimeOffset At { get; init; }
}

/// <summary>Where a piece broke.</summary>
public enum FractureLocation
{
    /// <summary>Not noted.</summary>
    NotNoted,

    /// <summary>In the gauge length, where it should.</summary>
    GaugeLength,

    /// <summary>At a grip: the strength of the layers may be higher.</summary>
    AtGrip,

    /// <summary>Inside a grip.</summary>
    InGrip,

    /// <summary>In several places at once.</summary>
    Several,
}
