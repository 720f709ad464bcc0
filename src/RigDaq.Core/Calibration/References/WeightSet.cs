namespace RigDaq.Core.Calibration.References;

/// <summary>Weights kept together by name.</summary>
/// <param name="Name">The person's name for the set.</param>
/// <param name="Weights">The weights; their names differ.</param>
public sealed record WeightSet(string Name, IReadOnlyList<Weight> Weights);
