namespace RigDaq.Tables.Readings;

/// <summary>What a person says about a table; whatever is null is proposed from the table itself. A kept layout is one of these. Columns go
/// by their header, in any case, or by their number from 1.</summary>
public sealed record ReadingOptions
{
    /// <summary>A column that is not there, or not to be used.</summary>
    public const string NoColumn = "none";

    /// <summary>Forces as they are.</summary>
    public const string KeepSign = "keep";

    /// <summary>Forces with the other sign.</summary>
    public const string TurnSign = "turn";

    /// <summary>The columns with the force, one a curve.</summary>
    public IReadOnlyList<string>? ForceColumns { get; init; }

    /// <summary>The column with the time, or none.</summary>
    public string? TimeColumn { get; init; }

    /// <summary>The column with the position, or none.</summary>
    public string? PositionColumn { get; init; }

    /// <summary>The column that names the curve a row belongs to, or none.</summary>
    public string? CurveColumn { get; init; }

    /// <summary>The force's unit, by its symbol.</summary>
    public string? ForceUnit { get; init; }

    /// <summary>The time's unit, by its symbol.</summary>
    public string? TimeUnit { get; init; }

    /// <summary>The position's unit, by its symbol.</summary>
    public string? PositionUnit { get; init; }

    /// <summary>What stands before the decimals: <c>.</c> or <c>,</c> (also <c>point</c>, <c>comma</c>).</summary>
    public string? DecimalMark { get; init; }

    /// <summary>What stands between cells: one character, or <c>comma</c>, <c>semicolon</c>, <c>tab</c>, <c>space</c>,
    /// <c>pipe</c>.</summary>
    public string? Separator { get; init; }

    /// <summary>How the text is encoded: utf-8, utf-16, utf-16be, windows-1252, latin-1, gbk.</summary>
    public string? Encoding { get; init; }

    /// <summary>So many lines before the table are skipped.</summary>
    public int? SkipLines { get; init; }

    /// <summary>A workbook's sheet, by name or number from 1.</summary>
    public string? Sheet { get; init; }

    /// <summary><c>keep</c>: forces as they are; <c>turn</c>: with the other sign.</summary>
    public string? Sign { get; init; }

    /// <summary>Samples a second, where there is no time.</summary>
    public double? RateHertz { get; init; }

    /// <summary>The crosshead's speed in mm/s, where there is a position and no time.</summary>
    public double? SpeedMillimetresPerSecond { get; init; }

    /// <summary>What this says, over what a kept layout says.</summary>
    /// <param name="kept">The layout.</param>
    public ReadingOptions Over(ReadingOptions kept) => new()
    {
        ForceColumns = ForceColumns ?? kept.ForceColumns,
        TimeColumn = TimeColumn ?? kept.TimeColumn,
        PositionColumn = PositionColumn ?? kept.PositionColumn,
        CurveColumn = CurveColumn ?? kept.CurveColumn,
        ForceUnit = ForceUnit ?? kept.ForceUnit,
        TimeUnit = TimeUnit ?? kept.TimeUnit,
        PositionUnit = PositionUnit ?? kept.PositionUnit,
        DecimalMark = DecimalMark ?? kept.DecimalMark,
        Separator = Separator ?? kept.Separator,
        Encoding = Encoding ?? kept.Encoding,
        SkipLines = SkipLines ?? kept.SkipLines,
        Sheet = Sheet ?? kept.Sheet,
        Sign = Sign ?? kept.Sign,
        RateHertz = RateHertz ?? kept.RateHertz,
        SpeedMillimetresPerSecond = SpeedMillimetresPerSecond ?? kept.SpeedMillimetresPerSecond,
    };

    /// <summary>Whether anything is said at all.</summary>
    public bool IsEmpty => this == new ReadingOptions();
}
