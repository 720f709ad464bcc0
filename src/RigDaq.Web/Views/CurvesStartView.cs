namespace RigDaq.Web.Views;

/// <summary>What the page of curves knows before a file was chosen.</summary>
internal sealed record CurvesStartView(bool MayChange, IReadOnlyList<string> Layouts, IReadOnlyList<string> Studies);
