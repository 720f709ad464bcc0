namespace RigDaq.App.Curves;

/// <summary>Whose the curves of a file are, as it was typed.</summary>
/// <param name="Study">Its id.</param>
/// <param name="Material">Of the group.</param>
/// <param name="Condition">Of the group.</param>
/// <param name="Setting">Of the group, or empty.</param>
/// <param name="Print">The print, or empty.</param>
/// <param name="Width">Readings in mm, or empty.</param>
/// <param name="Thickness">Readings in mm, or empty.</param>
/// <param name="SaveLayout">The name that the layout is kept under, or empty.</param>
/// <param name="Curve">One curve of the file by its name; empty for all.</param>
/// <param name="Specimen">Its label; empty to make one.</param>
/// <param name="Area">A section in mm² instead of width and thickness, or empty.</param>
/// <param name="AreaUncertainty">Its standard uncertainty in mm², or empty.</param>
/// <param name="Ending">How the pieces ended where a person saw it, or empty.</param>
internal sealed record CurvesRequest(string Study, string Material, string Condition, string Setting, string Print, string Width,
    string Thickness, string SaveLayout, string Curve, string Specimen, string Area, string AreaUncertainty, string Ending);
