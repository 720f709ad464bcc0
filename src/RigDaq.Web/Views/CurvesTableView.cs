using System.Globalization;
using RigDaq.App.Curves;
using RigDaq.Core.Pulls;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;

namespace RigDaq.Web.Views;

/// <summary>A table that says whose curves are whose, row by row, in file order.</summary>
internal sealed record CurvesTableView(IReadOnlyList<CurvesRowView> Rows, IReadOnlyList<string> Remarks);

/// <summary>A row of it, as it is sent back to keep its curve.</summary>
internal sealed record CurvesRowView(
    int Line, string File, string Curve, string Specimen, string Material, string Condition, string Setting, string Print,
    string Width, string Thickness, string Area, string AreaUncertainty, string Ending)
{
    internal static CurvesRowView Of(CurveRow row) => new(
        row.Line, Path.GetFileName(row.File), row.Curve, row.Specimen, row.Group.Material, row.Group.Condition,
            Text(row.Group.Setting), row.Print,
        Join(row.Section?.WidthsMillimetres), Join(row.Section?.ThicknessesMillimetres),
        Text(row.Section?.AreaSquareMillimetres), Text(row.Section?.AreaStandardUncertaintySquareMillimetres),
        row.Ending?.Word() ?? "");

    private static string Text(IFormattable? number) => number?.ToString(null, CultureInfo.InvariantCulture) ?? "";

    private static string Join(IReadOnlyList<double>? numbers) =>
        string.Join(' ', (numbers ?? []).Select(number => Text(number)));
}
