namespace RigDaq.Benchmarks.Table;

/// <summary>What a figure is held against.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Value">Its figure in the same unit.</param>
internal readonly record struct Rival(string Name, double Value);
