namespace RigDaq.Core.Callers;

/// <summary>Something that befell a rig, or that somebody did with it, as it is kept to be told afterwards.</summary>
public sealed record Happening
{
    /// <summary>When.</summary>
    public required DateTimeOffset At { get; init; }

    /// <summary>Of what kind.</summary>
    public required HappeningKind Kind { get; init; }

    /// <summary>What it was, as programs know it: a command's name in the interface, an alarm's kind, a stage of the sequence.</summary>
    public required string Code { get; init; }

    /// <summary>What there is to say of it besides, in English; empty for nothing.</summary>
    public string Words { get; init; } = "";

    /// <summary>What to do; empty where nothing need be done, or the words say it.</summary>
    public string Remedy { get; init; } = "";

    /// <summary>By whom; null where nobody asked for it.</summary>
    public By? By { get; init; }

    /// <summary>The free disk in megabytes, of a reading of it; null for others.</summary>
    public double? FreeMegabytes { get; init; }
}
