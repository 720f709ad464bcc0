using System.Text.Json.Serialization;

namespace RigDaq.App.Studies;

/// <summary>What a page asks of a study.</summary>
internal sealed record StudyRequest : IStudyRequest, ISeenRequest
{
    [JsonIgnore]
    public string Study { get; set; } = "";

    /// <summary>The version to bring back, counted from 1.</summary>
    public int To { get; set; }

    /// <summary>How many versions the page shows: where there are more by now, it is to look again.</summary>
    public int Seen { get; set; }

    /// <summary>Why, in the person's own words.</summary>
    public string Text { get; set; } = "";

    /// <summary>An earlier study.</summary>
    public string Other { get; set; } = "";

    /// <summary>Whether its strengths are pooled, for the reason given.</summary>
    public bool Pool { get; set; }

    /// <summary>Whether the scatter between its prints is left out where the study at hand has one print of each.</summary>
    public bool NoScatter { get; set; }

    /// <summary>Whether it is taken back.</summary>
    public bool Remove { get; set; }

    /// <summary>A group: material, condition and setting, separated by commas.</summary>
    public string Group { get; set; } = "";

    /// <summary>A condition's name.</summary>
    public string Condition { get; set; } = "";

    /// <summary>Its new name.</summary>
    public string NewName { get; set; } = "";
}
