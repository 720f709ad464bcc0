using RigDaq.Reports.Pictures;

namespace RigDaq.Reports.Document;

/// <summary>A piece of a report. What is said is settled here once; HTML and PDF only set it.</summary>
internal abstract record Block;

/// <param name="Text">What stands above a section.</param>
internal sealed record Heading(string Text) : Block;

/// <summary>How a paragraph is meant.</summary>
internal enum ParagraphKind
{
    Plain,

    /// <summary>What must not be missed.</summary>
    Caution,

    /// <summary>Small print.</summary>
    Note,

    /// <summary>What the report is about.</summary>
    Lead,
}

/// <param name="Text">Whole sentences.</param>
/// <param name="Kind">How it is meant.</param>
internal sealed record Paragraph(string Text, ParagraphKind Kind = ParagraphKind.Plain) : Block;

/// <param name="Items">One point each.</param>
/// <param name="Large">Whether these are what the report is about.</param>
internal sealed record Bullets(IReadOnlyList<string> Items, bool Large = false) : Block;

/// <param name="Picture">What is shown.</param>
internal sealed record Figure(Picture Picture) : Block;

/// <param name="Items">Names and what goes with them.</param>
internal sealed record Facts(IReadOnlyList<(string Name, string Value)> Items) : Block;

/// <param name="Header">What stands above a column.</param>
/// <param name="Numbers">Whether it holds numbers, which stand at the right.</param>
internal sealed record Column(string Header, bool Numbers = false);

/// <summary>A table; every row has as many cells as there are columns.</summary>
/// <param name="Caption">What it holds.</param>
/// <param name="Columns">Its columns.</param>
/// <param name="Rows">Its cells, as text.</param>
/// <param name="Note">What must be known to read it; empty for nothing.</param>
internal sealed record Table(string Caption, IReadOnlyList<Column> Columns, IReadOnlyList<IReadOnlyList<string>> Rows, string Note = "")
    : Block;
