using RigDaq.Tests;
using RigDaq.Tests.Shared;

namespace RigDaq.Tables.Tests.Text;

/// <summary>Whatever this room says to a person is written in its Text folder, so that it can be translated there and nowhere
/// else.</summary>
public sealed class OnePlaceTest : OnePlaceGuard
{
    protected override string Project => "RigDaq.Tables";

    private protected override IReadOnlyList<TextExemption> Exemptions =>
    [
        new("ClockTime.cs", "AM|PM", "what clocks write"),
        new("ColumnGuess.cs", "clock|mm", "what stands for a unit, and a unit"),
        new("FileKind.cs", "PK.*|%PDF", "begin files"),
        new("LayoutProposer.cs", "point|comma", "what an option takes"),
        new("ReadingOptions.cs", "none|keep|turn", "what options take"),
        new("RecordedTable.cs", "workbook|rate|speed|column", "values of the answer for machines"),
        new("SeparatorFinder.cs", "tab|semicolon|comma|pipe|space", "what an option takes"),
        new("TextDecoding.cs", "utf-8|utf-16|utf-16be|windows-1252|latin-1|gbk", "names of encodings, and what an option takes"),
        new("UnitSymbol.cs", "units", "a table's name"),
        new("Vocabulary.cs", "words|\\.tsv", "a table's name"),
        new("WorkbookReader.cs", "mimetype|xl/|yyyy-.*", "names of parts in a workbook, and a format of moments"),
    ];
}
