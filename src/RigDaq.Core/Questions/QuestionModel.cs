namespace RigDaq.Core.Questions;

/// <summary>The model behind the answers. Per cents are 100 σ of the logarithm of strength.</summary>
public sealed record QuestionModel
{
    /// <summary>The scale that the model lives on.</summary>
    public string Scale { get; init; } = "log";

    /// <summary>Between prints made alike; null where nothing shows it.</summary>
    public double? PrintStandardDeviationPercent { get; init; }

    /// <summary>Of a stretch beyond its print and its group; null where nothing shows it.</summary>
    public double? PrintSettingStandardDeviationPercent { get; init; }

    /// <summary>Of specimens within a stretch; null where there is no mixed model.</summary>
    public double? SpecimenStandardDeviationPercent { get; init; }

    /// <summary>How many prints.</summary>
    public required int Prints { get; init; }

    /// <summary>One of <see cref="ScatterSources"/>; null where the scatter between prints is not known.</summary>
    public string? PrintScatterFrom { get; init; }

    /// <summary>Degrees of freedom that the scatter between prints rests on; null where it is not known or was stated.</summary>
    public double? PrintDegreesOfFreedom { get; init; }

    /// <summary>"Kenward-Roger", "Satterthwaite" or "Welch".</summary>
    public required string DegreesOfFreedomMethod { get; init; }
}
