using RigDaq.App.Curves;

namespace RigDaq.Web.Views;

/// <summary>How a file was read.</summary>
internal sealed record CurvesView(string Name, string Encoding, string? Sheet, IReadOnlyList<string> Sheets,
    string? Separator, string DecimalMark, int? HeaderLine, int? FirstLine, string TimesFrom, IReadOnlyList<TraceReadColumn> Columns,
    IReadOnlyList<IReadOnlyList<string>> Preview, IReadOnlyList<string> Faults, IReadOnlyList<string> Warnings,
    IReadOnlyList<CurveView> Curves);

/// <summary>What one of its curves shows.</summary>
internal sealed record CurveView(string Name, string Ending, double? PeakForceNewtons, double? BreakForceNewtons, double? SampleRateHertz,
    int Samples, string? Svg, IReadOnlyList<string> Warnings);
