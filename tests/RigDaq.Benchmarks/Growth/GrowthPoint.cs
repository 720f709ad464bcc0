namespace RigDaq.Benchmarks.Growth;

/// <summary>What one size cost.</summary>
/// <param name="Size">How many there were.</param>
/// <param name="Cost">Seconds or bytes, above 0.</param>
internal readonly record struct GrowthPoint(double Size, double Cost);
