using RigDaq.Core.Runs;

namespace RigDaq.App.Runs;

/// <summary>The words for where a specimen parted, as they are typed and as programs read them.</summary>
internal static class FractureWords
{
    private static readonly (string Word, FractureLocation Location)[] Words =
    [
        ("gauge-length", FractureLocation.GaugeLength), ("at-grip", FractureLocation.AtGrip), ("in-grip", FractureLocation.InGrip),
            ("several", FractureLocation.Several),
    ];

    /// <summary>All of them.</summary>
    public static IEnumerable<string> All => Words.Select(w => w.Word);

    /// <summary>The place that a word stands for; not noted for any other.</summary>
    public static FractureLocation Location(string? word) => Words.FirstOrDefault(w => w.Word == word).Location;

    /// <summary>The word of a place; empty where it was not noted.</summary>
    public static string Word(FractureLocation location) => Words.FirstOrDefault(w => w.Location == location).Word ?? "";
}
