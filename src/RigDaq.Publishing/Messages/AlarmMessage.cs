namespace RigDaq.Publishing.Messages;

/// <summary>Something that a person should look at now.</summary>
public sealed record AlarmMessage
{
    /// <summary>The version of the payload.</summary>
    public int Version { get; init; } = PayloadJson.Version;

    /// <summary>When.</summary>
    public required DateTimeOffset At { get; init; }

    /// <summary>A short name that a program can switch on, for example "link lost".</summary>
    public required string Kind { get; init; }

    /// <summary>What happened and where, in words.</summary>
    public required string Text { get; init; }

    /// <summary>What to do.</summary>
    public string Remedy { get; init; } = "";

    /// <summary>Whether the sequence is held until a person has looked.</summary>
    public bool Held { get; init; }
}
