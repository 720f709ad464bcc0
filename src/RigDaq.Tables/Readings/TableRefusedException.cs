namespace RigDaq.Tables.Readings;

/// <summary>The file as a whole cannot be read; the fault says why.</summary>
internal sealed class TableRefusedException(string problem) : Exception(problem);
