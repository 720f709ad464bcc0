using RigDaq.Tables.Text;
using RigDaq.Text;

namespace RigDaq.Tables.Readings;

/// <summary>Something in a file that keeps it from being read.</summary>
/// <param name="Line">Where, from 1; null where it is the whole file's.</param>
/// <param name="Column">The column's name; null where it is the whole line's.</param>
/// <param name="Problem">What is wrong, what was expected and what to do.</param>
public sealed record TableFault(int? Line, string? Column, Sentence Problem)
{
    /// <summary>The place and the problem in one sentence, without the file's name.</summary>
    public override string ToString() => TablesText.Fault(Line, Column, Problem);
}
