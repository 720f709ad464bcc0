namespace RigDaq.Tables.Readings;

/// <summary>The most of everything that a table may hold: a file from outside never takes more than this.</summary>
public static class TableLimits
{
    /// <summary>The longest file of text, in bytes: three million rows of three columns fit.</summary>
    public const long TextBytesMax = 100L << 20;

    /// <summary>The longest workbook as it is packed, in bytes.</summary>
    public const long WorkbookBytesMax = 32L << 20;

    /// <summary>The most that a workbook may unpack to, in bytes.</summary>
    public const long UnpackedBytesMax = 256L << 20;

    /// <summary>The most parts that a workbook may have.</summary>
    public const int WorkbookPartsMax = 10_000;

    /// <summary>The most cells of a table.</summary>
    public const int CellsMax = 20_000_000;

    /// <summary>The most columns of a table.</summary>
    public const int ColumnsMax = 1_000;

    /// <summary>The most curves of a file.</summary>
    public const int CurvesMax = 1_000;

    /// <summary>So many faults of a file are told; further ones are counted.</summary>
    public const int FaultsMax = 20;

    /// <summary>The longest cell between quotation marks, in characters; a longer one is a stray mark.</summary>
    public const int QuotedMax = 1_000;

    /// <summary>So much of a cell is quoted in a message, in characters.</summary>
    public const int CellShownMax = 40;
}
