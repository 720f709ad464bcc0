namespace RigDaq.Core.Specimens;

/// <summary>What a material's name stands for.</summary>
/// <param name="Name">As in the groups: "Alder".</param>
/// <param name="Plastic">The kind, by its usual abbreviation: "PLA", "PETG", "ABS", "ASA"; empty where not known.</param>
public sealed record MaterialRecord(string Name, string Plastic);
