using RigDaq.Core.Text;

namespace RigDaq.Core.Runs;

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

    /// <summary>The SHA-256 of that photo, as 64 hexadecimal digits, so that a changed or exchanged one is noticed; null for photos kept
    /// before it was noted.</summary>
    public string? PhotoSha256 { get; init; }

    /// <summary>When it was noted.</summary>
    public required DateTimeOffset At { get; init; }

    /// <summary>Place, layer and appearance in words: "at the grip; layer 31; flat"; empty where none was noted.</summary>
    public string Words()
        =>
        string.Join("; ",
        new[] { Location.Spoken(), Layer.Length == 0 ? "" : CoreText.FractureLayer(Layer), Appearance }.Where(part => part.Length > 0));

    /// <summary>The same in the words by which files know it, whatever language a person reads.</summary>
    public string FileWords()
        =>
        string.Join("; ", new[] { Location.Word(), Layer.Length == 0 ? "" : $"layer {Layer}", Appearance }.Where(part => part.Length > 0));
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

/// <summary>The places in words.</summary>
public static class FractureLocations
{
    /// <summary>What a person reads; empty where it was not noted.</summary>
    public static string Spoken(this FractureLocation location) => location switch
    {
        FractureLocation.GaugeLength => CoreText.FractureInGaugeLength,
        FractureLocation.AtGrip => CoreText.FractureAtGrip,
        FractureLocation.InGrip => CoreText.FractureInGrip,
        FractureLocation.Several => CoreText.FractureInSeveralPlaces,
        _ => "",
    };

    /// <summary>The words by which files know it: "in the gauge length"; empty where it was not noted.</summary>
    public static string Word(this FractureLocation location) => location switch
    {
        FractureLocation.GaugeLength => "in the gauge length",
        FractureLocation.AtGrip => "at the grip",
        FractureLocation.InGrip => "in the grip",
        FractureLocation.Several => "in several places",
        _ => "",
    };
}
