namespace RigDaq.App.Jobs;

/// <summary>A study's report is asked for.</summary>
internal sealed class ReportJobRequest : IStudyRequest
{
    /// <inheritdoc/>
    public string Study { get; set; } = "";

    /// <summary>html or pdf.</summary>
    public string Format { get; set; } = "html";

    /// <summary>Whether it is left out by whom anything was done.</summary>
    public bool NoNames { get; set; }
}
