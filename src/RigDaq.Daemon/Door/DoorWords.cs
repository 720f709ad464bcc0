using System.Text.Json.Serialization;

namespace RigDaq.Daemon.Door;

/// <summary>One thing that a daemon says of a command; one member is there, the others are null.</summary>
internal sealed record DoorWords
{
    /// <summary>For standard output.</summary>
    [JsonPropertyName("out")]
    public string? Output { get; init; }

    /// <summary>For standard error.</summary>
    [JsonPropertyName("err")]
    public string? Error { get; init; }

    /// <summary>True where the command waits for a line of input.</summary>
    public bool? Ask { get; init; }

    /// <summary>The exit status of a command that has ended.</summary>
    public int? Exit { get; init; }
}
