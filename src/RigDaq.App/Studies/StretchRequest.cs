using System.Text.Json.Serialization;

namespace RigDaq.App.Studies;

/// <summary>What a page says of one stretch of a print: that it could not be printed, or that it was after all.</summary>
internal sealed record StretchRequest : IStudyRequest
{
    [JsonIgnore]
    public string Study { get; set; } = "";

    public string Print { get; set; } = "";

    /// <summary>The stretch's setting; null where the study has none.</summary>
    public decimal? Setting { get; set; }

    /// <summary>Why, in the person's own words.</summary>
    public string Text { get; set; } = "";

    /// <summary>How many times it was tried, 1 or more.</summary>
    public int Tries { get; set; } = 1;

    /// <summary>How many specimens were cut from it, where it was printed after all.</summary>
    public int Specimens { get; set; }
}
