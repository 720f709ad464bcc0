using System.CommandLine;
using System.Text.Json;
using System.Text.Json.Serialization;
using RigDaq.App.Input;
using RigDaq.App.Studies;
using RigDaq.App.Text;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study record</c>: how a print came to be, from a JSON file (docs/studies.md has an example).</summary>
internal static class StudyRecordCommand
{
    private const long FileBytesMax = 1 << 20;

    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web)
    {
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        ReadCommentHandling = JsonCommentHandling.Skip,
        AllowTrailingCommas = true,
        RespectNullableAnnotations = true,
    };

    public static Command Create()
    {
        var id = new Argument<string>("STUDY") { Description = TerminalText.StudyId };
        var prints = new Argument<string>("PRINTS") { Description = TerminalText.StudyRecordPrints };
        var file = new Argument<string>("FILE") { Description = TerminalText.StudyRecordFile };
        return new Command("record", TerminalText.StudyRecordCommand)
            { id, prints, file, StudyStore.Data, StudyStore.Config }.WithBody(parsed =>
        {
            string path = parsed.GetRequiredValue(file);
            PrintRecord record = Read(path);
            using StudyStore store = StudyStore.Open(parsed);
            Study study = store.Require(parsed.GetRequiredValue(id));
            string[] ids = parsed.GetRequiredValue(prints)
                .Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
            if (ids.FirstOrDefault(one => study.Prints.All(print => print.Id != one)) is { } unknown)
                throw new InputException(TerminalText.StudyRecordNoPrint(study.Id, unknown, study.Prints.Select(p => p.Id).Take(20)));
            IReadOnlyList<StudyFinding> findings = RecordRules.Check(PrintRecordService.With(study, ids, record));
            string[] refused = [.. findings.Where(f => f.Refused).Select(f => f.Text)];
            if (refused.Length > 0) throw new InputException($"{path}: {string.Join(" ", refused)}");
            study = store.Edit(study.Id, now => PrintRecordService.With(now, ids, record),
                TerminalText.StudyRecorded(parsed.GetRequiredValue(prints), Path.GetFileName(path))).Study;
            foreach (string text in findings.Select(f => f.Text).Concat(Confounding.Warnings(study))) CommandRunner.Say(text);
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study = study.Id, warnings = findings.Select(f => f.Text) });
            return ExitStatus.Done;
        });
    }

    /// <exception cref="InputException">The file is missing, too long or not such a record.</exception>
    internal static PrintRecord Read(string file)
    {
        if (!File.Exists(file)) throw InputException.In(file, AppText.InputNoSuchFile);
        try
        {
            return
                JsonSerializer.Deserialize<PrintRecord>(BoundedFile.ReadText(file, FileBytesMax,
                TerminalText.StudyRecordTooLong(FileBytesMax)), Options)
                ?? throw InputException.In(file, TerminalText.StudyRecordObjectExpected);
        }
        catch (JsonException fault)
        {
            throw new InputException(TerminalText.StudyRecordNotOne(file, fault.LineNumber + 1, (fault.Path ?? "$").TrimStart('$', '.')),
                fault);
        }
    }
}
