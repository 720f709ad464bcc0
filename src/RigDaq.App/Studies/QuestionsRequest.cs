using System.Text.Json.Serialization;

namespace RigDaq.App.Studies;

/// <summary>The questions of a plan.</summary>
internal sealed record QuestionsRequest : IStudyRequest
{
    [JsonIgnore]
    public string Study { get; set; } = "";

    /// <summary>Their names (docs/statistics.md), one a line.</summary>
    public string Questions { get; set; } = "";

    /// <summary>The material that the others are compared with; empty for all pairs.</summary>
    public string ReferenceMaterial { get; set; } = "";

    /// <summary>How many per cent of the reference setting's strength is asked to be kept.</summary>
    public double KeepsPercent { get; set; } = 90;

    /// <summary>Why; wanted where the plan is frozen.</summary>
    public string Text { get; set; } = "";

    /// <summary>Whether the plan is frozen with them.</summary>
    public bool Freeze { get; set; }
}
