namespace RigDaq.Core.Text;

/// <content>What a person reads for a kind of thing; files and messages know it by a word of their own, which no translation changes.</content>
internal static partial class CoreText
{
    public const string EndingBroken = "broken";
    public const string EndingPartlyBroken = "partly broken";
    public const string EndingSlippedOut = "slipped out";
    public const string EndingUnbroken = "unbroken";
    public const string EndingOverload = "overload";
    public const string EndingStopped = "stopped";
    public const string EndingInterrupted = "interrupted";
    public const string EndingNoContact = "no contact";
    public const string FractureBrittle = "brittle";
    public const string FractureDuctile = "ductile";
    public const string FractureInGaugeLength = "in the gauge length";
    public const string FractureAtGrip = "at the grip";
    public const string FractureInGrip = "in the grip";
    public const string FractureInSeveralPlaces = "in several places";
}
