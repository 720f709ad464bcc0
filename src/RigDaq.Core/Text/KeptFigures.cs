namespace RigDaq.Core.Text;

/// <summary>What a setting keeps of the reference setting's strength, as people read it.</summary>
/// <param name="At">The setting with its unit.</param>
/// <param name="Value">In per cent.</param>
/// <param name="Low">The one-sided lower end.</param>
internal sealed record KeptFigures(string At, string Value, string Low);
