using RigDaq.Core.Text;

namespace RigDaq.Core.Pulls;

/// <summary>How a pull ended. Every pull that started has exactly one.</summary>
public enum PullEnding
{
    /// <summary>The specimen parted and nothing carries load.</summary>
    Broken,

    /// <summary>The force fell like a break, but some of the specimen still carries load.</summary>
    PartlyBroken,

    /// <summary>The force fell as far, but slowly: the specimen slid out of a grip.</summary>
    SlippedOut,

    /// <summary>The travel ended and the specimen still held.</summary>
    Unbroken,

    /// <summary>The force limit was reached.</summary>
    Overload,

    /// <summary>A person, the guard or the emergency stop stopped it.</summary>
    Stopped,

    /// <summary>The link, the device or the program failed.</summary>
    Interrupted,

    /// <summary>No force was ever felt.</summary>
    NoContact,
}

/// <summary>The endings in words.</summary>
public static class PullEndings
{
    /// <summary>What a person reads.</summary>
    public static string Spoken(this PullEnding ending) => ending switch
    {
        PullEnding.Broken => CoreText.EndingBroken,
        PullEnding.PartlyBroken => CoreText.EndingPartlyBroken,
        PullEnding.SlippedOut => CoreText.EndingSlippedOut,
        PullEnding.Unbroken => CoreText.EndingUnbroken,
        PullEnding.Overload => CoreText.EndingOverload,
        PullEnding.Stopped => CoreText.EndingStopped,
        PullEnding.Interrupted => CoreText.EndingInterrupted,
        PullEnding.NoContact => CoreText.EndingNoContact,
        _ => ending.ToString(),
    };

    /// <summary>The word by which files and messages know it, for example "partly broken".</summary>
    public static string Word(this PullEnding ending) => ending switch
    {
        PullEnding.Broken => "broken",
        PullEnding.PartlyBroken => "partly broken",
        PullEnding.SlippedOut => "slipped out",
        PullEnding.Unbroken => "unbroken",
        PullEnding.Overload => "overload",
        PullEnding.Stopped => "stopped",
        PullEnding.Interrupted => "interrupted",
        PullEnding.NoContact => "no contact",
        _ => throw new ArgumentOutOfRangeException(nameof(ending), ending, "No such ending."),
    };
}
