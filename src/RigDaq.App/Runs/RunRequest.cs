using System.Text.Json.Serialization;

namespace RigDaq.App.Runs;

/// <summary>What a page asks of a run: a correction of the revision that it shows.</summary>
internal sealed record RunRequest : ISeenRequest
{
    [JsonIgnore]
    public string Run { get; set; } = "";

    /// <summary>The revision that is shown.</summary>
    public int Seen { get; set; } = -1;

    /// <summary>Why, in the person's own words.</summary>
    public string Text { get; set; } = "";

    /// <summary>The reason of a void, a word of the short list.</summary>
    public string Kind { get; set; } = "";

    /// <summary>Where it broke, a word of the list; empty where it was not noted.</summary>
    public string Location { get; set; } = "";

    public string Layer { get; set; } = "";

    public string Appearance { get; set; } = "";

    /// <summary>The revision to bring back.</summary>
    public int To { get; set; } = -1;
}
