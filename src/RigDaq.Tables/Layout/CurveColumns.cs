namespace RigDaq.Tables.Layout;

/// <summary>The columns of one curve: the force or counts, time and position where there are any. A curve that is alone has an empty
/// name.</summary>
internal sealed record CurveColumns(string Name, ColumnGuess Force, ColumnGuess? Time, ColumnGuess? Position);
