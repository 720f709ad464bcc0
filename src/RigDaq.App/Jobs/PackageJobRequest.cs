
namespace RigDaq.App.Jobs;

/// <summary>A study as a data package is asked for.</summary>
internal sealed class PackageJobRequest : IStudyRequest
{
    /// <inheritdoc/>
    public string Study { get; set; } = "";

    /// <summary>CC0-1.0 or CC-BY-4.0; empty for none, and then nobody else may use the data.</summary>
    public string Licence { get; set; } = "";

    /// <summary>Whether the samples go in as CSV; else as Parquet.</summary>
    public bool TracesAsCsv { get; set; }

    /// <summary>Whether the photos stay out.</summary>
    public bool NoPhotos { get; set; }

    /// <summary>Leaves out by whom anything was done.</summary>
    public bool NoNames { get; set; }
}
