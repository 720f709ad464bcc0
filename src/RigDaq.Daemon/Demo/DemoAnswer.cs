using RigDaq.Text;

namespace RigDaq.Daemon.Demo;

/// <summary>What <c>demo --exit --json</c> prints; the names are a public promise.</summary>
internal sealed record DemoAnswer
{
    public required string Study { get; init; }

    public required int Runs { get; init; }

    public required IReadOnlyDictionary<string, int> Endings { get; init; }

    public required string Report { get; init; }

    public required string Data { get; init; }

    public required DemoCalibrationAnswer Calibration { get; init; }

    public required IReadOnlyList<DemoGroupAnswer> Groups { get; init; }

    public required IReadOnlyList<Sentence> Warnings { get; init; }
}

/// <summary>The calibration's class over its range; null where it has none.</summary>
internal sealed record DemoCalibrationAnswer(double? Class, double? FromNewtons, double? ToNewtons);

/// <summary>A group as it was measured beside what is true of it.</summary>
internal sealed record DemoGroupAnswer
{
    public required string Material { get; init; }

    public required string Condition { get; init; }

    public required decimal? Setting { get; init; }

    public required int N { get; init; }

    public required double? MeanMegapascals { get; init; }

    /// <summary>The standard uncertainty of the mean of these specimens as measured: forces, calibration and sections, not their
    /// scatter.</summary>
    public required double? MeasurementStandardUncertaintyMegapascals { get; init; }

    /// <summary>The population's mean.</summary>
    public required double TruthMegapascals { get; init; }

    /// <summary>The mean of the specimens that were drawn.</summary>
    public required double DrawnMeanMegapascals { get; init; }
}
