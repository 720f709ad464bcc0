namespace RigDaq.Virtual;

/// <summary>A section as it truly is, and as a caliper reads it.</summary>
/// <param name="WidthMillimetres">The true width.</param>
/// <param name="ThicknessMillimetres">The true thickness.</param>
/// <param name="WidthReadings">What the caliper said of the width, in mm.</param>
/// <param name="ThicknessReadings">What it said of the thickness, in mm.</param>
public sealed record VirtualSection(double WidthMillimetres, double ThicknessMillimetres, IReadOnlyList<double> WidthReadings,
    IReadOnlyList<double> ThicknessReadings)
{
    /// <summary>The true area in mm².</summary>
    public double AreaSquareMillimetres => WidthMillimetres * ThicknessMillimetres;
}

/// <summary>How sections come out of the printer and the saw, and how they are measured.</summary>
public sealed record VirtualSectioning
{
    /// <summary>The wanted width in mm.</summary>
    public double WidthMillimetres { get; init; } = 10;

    /// <summary>The wanted thickness in mm.</summary>
    public double ThicknessMillimetres { get; init; } = 2;

    /// <summary>The standard deviation of the true width, in mm.</summary>
    public double WidthScatterMillimetres { get; init; } = 0.08;

    /// <summary>The standard deviation of the true thickness, in mm.</summary>
    public double ThicknessScatterMillimetres { get; init; } = 0.02;

    /// <summary>Readings of each.</summary>
    public int Readings { get; init; } = 3;

    /// <summary>The standard deviation of a reading, in mm.</summary>
    public double ReadingScatterMillimetres { get; init; } = 0.008;

    /// <summary>The smallest step that the caliper shows, in mm.</summary>
    public double ResolutionMillimetres { get; init; } = 0.01;
}
