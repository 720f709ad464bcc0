using RigDaq.Daemon.Commands;

namespace RigDaq.Daemon.Dashboard;

/// <summary>What the page of curves knows before a file was chosen.</summary>
internal sealed record CurvesStartView(bool MayChange, IReadOnlyList<string> Layouts, IReadOnlyList<string> Studies);

/// <summary>How a file was read.</summary>
internal sealed record CurvesView(
    string Name, string Encoding, string? Sheet, IReadOnlyList<string> Sheets, string? Separator, string DecimalMark, int? HeaderLine, int? FirstLine, string TimesFrom,
    IReadOnlyList<TraceReadColumn> Columns, IReadOnlyList<IReadOnlyList<string>> Preview, IReadOnlyList<string> Faults, IReadOnlyList<string> Warnings,
    IReadOnlyList<CurveView> Curves);

/// <summary>What one of its curves shows.</summary>
internal sealed record CurveView(
    string Name, string Ending, double? PeakForceNewtons, double? BreakForceNewtons, double? SampleRateHertz, int Samples, string? Svg, IReadOnlyList<string> Warnings);
