using System.Text.Json.Serialization;

namespace RigDaq.App.Studies;

/// <summary>Prints that were entered one for each setting and are one piece.</summary>
internal sealed record JoinRequest : IStudyRequest
{
    [JsonIgnore]
    public string Study { get; set; } = "";

    /// <summary>Their ids, one a line, from the print bed upwards.</summary>
    public string Prints { get; set; } = "";

    /// <summary>Why, in the person's own words.</summary>
    public string Text { get; set; } = "";
}
