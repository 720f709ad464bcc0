using System.Text.RegularExpressions;
using RigDaq.Tests;
using RigDaq.Tests.Shared;

namespace RigDaq.Archive.Tests.Text;

/// <summary>Whatever the archive says to a person is written in the Text room, so that it can be translated there and nowhere
/// else.</summary>
public sealed partial class OnePlaceTest : OnePlaceGuard
{
    protected override string Project => "RigDaq.Archive";

    // What stays beside its code: names in the database, the journal and a package, and the values of a package's tables.
    private protected override IReadOnlyList<TextExemption> Exemptions =>
    [
        new("ArchiveFolder.cs", @"captures|\.aside--?", "names of a folder and of files"),
        new("JournalLine.cs", @"entry|\s*kind :.*", "keys of the journal"),
        new("CheckedLine.cs", @"\{ crc32c :|, \{name\} :", "keys of the journal"),
        new("PackedBlock.cs", "block", "a key of the journal"),
        new("NoteKinds.cs",
            "bar-pulls|check-reading|check-weight|compliance|emergency-stop-test|first-start|guide|happening|invalidation|origin|weights|work",
            "begin the names of notes in the database"),
        new("RecordProof.cs", "record", "stands for a place without a name"),
        new("SentenceValues.cs", "Values", "ends the names of members of records"),
        new("CameraData.cs", "Exif", "marks in a photo's file"),
        new("CaptureFormat.cs", "RIGCAP 1", "begins every capture"),
        new("CheckWeightHistory.cs", "check-weights", "a table's name"),
        new("CaptureFiles.cs", @"\.aside-", "part of the name of a file"),
        new("Collections.cs", "calibrations|device|meta|notes|outbox|pulls|revisions|run|runs|started|studies|study|traces|versions",
            "names in the database"),
        new("DataPackageFile.cs", "hash|path|resources", "keys of the Data Package standard"),
        new("DataPackageFile.cs", "https:.*|sha256:|utf-8|table", "words of the Data Package standard"),
        new("DataPackageFile.cs", "study", "stands for a name without a letter"),
        new("DatabaseCopy.cs", "rigdaq-database-", "begins the name of a folder"),
        new("DiskSync.cs", "close|fsync|libc|open", "names of system calls"),
        new("HistoryTable.cs", "history", "a table's name"),
        new("HistoryTable.cs", "left out|peak force|run|study", "values of the table"),
        new("JournalEntry.cs", "by|at|batch|id|kind|messages|number|pull|reason|record|samples", "keys of the journal"),
        new("JournalEntry.cs", "by|The line is no entry of the journal\\.", "caught where lines are read: the line counts as damaged"),
        new("OutboxRows.cs", "reached|retain|topic", "names in the database"),
        new("PackageTable.cs", "true|false", "values of tables"),
        new("PackageTable.cs", @"\{text\.Replace\(", "code between quotation marks of quotation marks"),
        new("PictureLook.cs", "IDAT|IEND|IHDR", "names of chunks in a picture's file"),
        new("PlainRecord.cs", "notes|reason|source", "names of members"),
        new("PhotoStore.cs", @"photos|\^\[0-9A-Za-z-.*", "a folder's name and the pattern of names in it"),
        new("JournalPosition.cs", "progress", "a name in the database"),
        new("VersionRows.cs", "study", "a name in the database"),
        new("Where.cs", "LIKE @0", "a word of the database's language"),
        new("StudyRepository.cs", "study", "goes into a fault of the program; the name of a note in the database"),
        new("CalibrationRepository.cs", "calibration|device", "goes into a fault of the program; a name in the database"),
        new("ComplianceRepository.cs", "compliance", "goes into a fault of the program"),
        new("RigDiary.cs", "set of weights", "goes into a fault of the program"),
        new("RigDiary.cs", "rig", "stands in the names of notes in the database"),
        new("Where.cs", ".*AND.*", "a condition for the database"),
        new("LeftTransactions.cs", "_engine|_monitor|Transactions", "names of members"),
        new("RunRows.cs", "pieces|run|started|study", "names in the database"),
        new("ChecksummedDocument.cs", "by|crc32c_by|at|bytes|crc32c|crc32c_why|reason|text", "names in the database"),
        new("StudyTables.cs", "calibrations|comparisons|earlier|groups|prints|runs|specimens|strengths", "names of tables"),
        new("TraceTable.cs", "counts|number|traces", "names of a table and of its columns"),
        new("ChannelTable.cs", "channel|channels|number|other|raw", "names of a table and of its columns"),
    ];

    // The guard itself: it would see what it is there to see.
    [Theory]
    [InlineData("findings.Add($\"Line {line} is damaged.\");", true)]
    [InlineData("throw new ArchiveException(\"In use.\", e);", true)]
    [InlineData("new(\"run_id\", \"string\", \"The run\"),", true)]
    [InlineData("new(\"area_mm2\", \"number\", ArchiveText.RunsArea, \"mm²\"),", false)]
    [InlineData("capture is null ? \"interrupted\" : \"complete\"", true)]
    [InlineData("json[\"title\"] = title; In(\"runs-log.db\");", false)]
    [InlineData("throw new ArgumentException(\"No values.\", nameof(values));", false)]
    [InlineData("_logger.LogError(\"Line {Line} was left out.\", line);", false)]
    public void The_guard_sees_words(string line, bool expected) => Assert.Equal(expected, Words([line]).Any());

    [Fact]
    public void The_guard_sees_what_follows_a_line_of_the_log() => Assert.Equal(
        ["Two words."], Words(["_logger.LogError(", "    \"Not this,\" +", "    \"nor this.\", e);", "Say(\"Two words.\");"]));

    protected override IEnumerable<string> Words(IEnumerable<string> lines) => SourceText.Code(lines)
        .SelectMany(line => SourceText.Literals(Decided().Replace(line, "")))
        .Where(text => SourceText.HasWord(text) && !Name().IsMatch(text.Trim()));

    // What code looks up by or decides by, and a column's name, type and unit.
    [GeneratedRegex("""\["[^"]*"\]|"[^"]*"(?=\s=>)|(?:\b(?:is|or|not)\s\(?|[=!]=\s)"[^"]*"|(?<=\bnew\()"\w+", "(?:string|number|integer|boolean|datetime)"(?=, ArchiveText\.)|(?<=ArchiveText\.\w+, )"[^" ]*"(?=\))""")]
    private static partial Regex Decided();

    // Names of files and what they end with, of columns, keys and paths in the database, kinds of files, formats of moments.
    [GeneratedRegex(@"^(?:[\w-]*(?:\.[a-z]+)+|_?[a-z]+(?:_\w+)*_\w+|_id|\$\.[a-z_]+|[a-z]+[A-Z]\w*|(?:text|image|application)/[a-z.]+|yyyy[\w':-]+)$")]
    private static partial Regex Name();
}
