using RigDaq.Core.Quantities;

namespace RigDaq.Reports.Text;

/// <content>What stands above the columns of tables.</content>
internal static partial class ReportText
{
    public const string GroupColumn = "group";
    public const string CountColumn = "n";
    public const string PrintsColumn = "prints";
    public const string VariationColumn = "CV, %";
    public const string LeftOutColumn = "left out";
    public const string EndingsColumn = "endings";
    public const string WhereColumn = "where";
    public const string WhatColumn = "what";
    public const string ChangeColumn = "change, %";
    public const string HolmColumn = "p after Holm";
    public const string EquivalenceColumn = "p of equivalence";
    public const string VerdictColumn = "verdict";
    public const string SeriesColumn = "series";
    public const string SpecimenColumn = "specimen";
    public const string PulledColumn = "pulled";
    public const string EndingColumn = "ending";
    public const string RemarksColumn = "remarks";
    public const string PrintColumn = "print";
    public const string StorageColumn = "storage";
    public const string DryingColumn = "drying";
    public const string WhilePrintingColumn = "while printing";
    public const string PrinterColumn = "printer";
    public const string NotesColumn = "notes";
    public const string ErrorColumn = "error, %";
    public const string RepeatabilityColumn = "repeatability, %";
    public const string ReversibilityColumn = "reversibility, %";
    public const string ResolutionColumn = "resolution, %";
    public const string ExpandedColumn = "expanded uncertainty, %";

    public static string MeanColumn(Units units) => In("mean", units.Stress);

    public static string IntervalColumn(Units units) => In("interval", units.Stress);

    public static string DeviationColumn(Units units) => In("SD", units.Stress);

    public const string AbsoluteCaption = "The means as absolute figures";

    public const string AbsoluteNote =
        "To be set beside figures from elsewhere: the interval is joined with the share of calibration, caliper and alignment (k = 2). Between groups of one bench under one calibration that share is common and cancels; use the table above for those.";

    public static string AbsoluteIntervalColumn(Units units) => In("with the common share", units.Stress);

    public static string CalibrationShareColumn(Units units) => In("common share ± (k\u00a0=\u00a02)", units.Stress);

    public static string MedianColumn(Units units) => In("median", units.Stress);

    public static string RangeColumn(Units units) => In("range", units.Stress);

    public static string MeanWithLeftOutColumn(Units units) => In("mean with those", units.Stress);

    public static string DifferenceColumn(Units units) => In("difference", units.Stress);

    public static string ResolvableColumn(Units units) => In("could have seen", units.Stress);

    public static string PeakColumn(Units units) => In("peak force", units.Force);

    public static string SectionColumn(Units units) => In("section", units.Area);

    public static string StrengthColumn(Units units) => In("strength", units.Stress);

    public static string UncertaintyColumn(Units units) => In("± (k\u00a0=\u00a02)", units.Stress);

    public static string ReferenceForceColumn(Units units) => In("reference", units.Force);

    private static string In(string name, Unit unit) => $"{name}, {unit.Symbol}";
}
