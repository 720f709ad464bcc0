using RigDaq.Core.Strength;

namespace RigDaq.Core.Text;

/// <content>What a person reads for a kind of thing; files and messages know it by a word of their own, which no translation changes.</content>
internal static partial class CoreText
{
    public static string Ending(PullEnding ending) => ending switch
    {
        PullEnding.Broken => "broken",
        PullEnding.PartlyBroken => "partly broken",
        PullEnding.SlippedOut => "slipped out",
        PullEnding.Unbroken => "unbroken",
        PullEnding.Overload => "overload",
        PullEnding.Stopped => "stopped",
        PullEnding.Interrupted => "interrupted",
        PullEnding.NoContact => "no contact",
        _ => ending.ToString(),
    };

    public static string FractureManner(FractureManner manner) => manner == Strength.FractureManner.Brittle ? "brittle" : "ductile";

    public static string FracturePlace(FractureLocation location) => location switch
    {
        FractureLocation.GaugeLength => "in the gauge length",
        FractureLocation.AtGrip => "at the grip",
        FractureLocation.InGrip => "in the grip",
        FractureLocation.Several => "in several places",
        _ => "",
    };
}
