namespace RigDaq.Archive.Packages;

/// <summary>How a data package is written.</summary>
public sealed record PackageOptions
{
    /// <summary>
    /// The licence that the person picked, by its SPDX name (for example CC0-1.0 or CC-BY-4.0); null for none, and then
    /// nobody else may use the data, which the package says.
    /// </summary>
    public string? Licence { get; init; }

    /// <summary>Traces as one CSV table instead of Parquet: larger, readable by everything.</summary>
    public bool TracesAsCsv { get; init; }

    /// <summary>
    /// Whether photos of broken pieces go along. A photo can say more than it shows: cameras write the moment, and often the place,
    /// into the file.
    /// </summary>
    public bool Photos { get; init; } = true;

    /// <summary>Whether it is said by whom something was done. What was done, when and why is said in any case.</summary>
    public bool Names { get; init; } = true;

    /// <summary>The version of the program that writes.</summary>
    public string Version { get; init; } = "";
}
