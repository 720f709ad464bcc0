namespace RigDaq.Benchmarks.Table;

/// <summary>One line of the table.</summary>
/// <param name="Key">By which it is found in the last table.</param>
/// <param name="What">In words.</param>
/// <param name="Value">The figure.</param>
/// <param name="Unit">Its unit.</param>
internal sealed record Measured(string Key, string What, double Value, string Unit)
{
    /// <summary>Whether more is better; else less is.</summary>
    public bool IsMoreBetter { get; init; }

    /// <summary>What is aimed at, in the unit; null where nothing is.</summary>
    public double? Aim { get; init; }

    /// <summary>What it is held against.</summary>
    public IReadOnlyList<Rival> Rivals { get; init; } = [];

    /// <summary>What limits it now, in words.</summary>
    public string Limit { get; init; } = "";

    /// <summary>Whether the aim is met; null where there is none.</summary>
    public bool? IsMet => Aim is { } aim ? IsMoreBetter ? Value >= aim : Value <= aim : null;

    /// <summary>How many times better than a rival; less than one is worse.</summary>
    public double RatioTo(Rival rival) => IsMoreBetter ? Value / rival.Value : rival.Value / Value;
}
