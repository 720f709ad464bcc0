namespace RigDaq.Tables.Layout;

/// <summary>The columns of one curve.</summary>
/// <param name="Name">Its name; empty where the file holds one only.</param>
/// <param name="Force">The force, or counts.</param>
/// <param name="Time">The time; null where there is none.</param>
/// <param name="Position">The position; null where there is none.</param>
internal sealed record CurveColumns(string Name, ColumnGuess Force, ColumnGuess? Time, ColumnGuess? Position);
