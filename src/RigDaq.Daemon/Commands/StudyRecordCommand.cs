using System.CommandLine;
using System.Text.Json;
using System.Text.Json.Serialization;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Input;

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
        var id = new Argument<string>("STUDY") { Description = "The study's id." };
        var prints = new Argument<string>("PRINTS") { Description = "The prints it holds for: one id, or several with commas." };
        var file = new Argument<string>("FILE") { Description = "JSON with storage, drying, whilePrinting, chamberTemperatureCelsius, printerSettings, notes." };
        Option<string?> data = StudyStore.DataOption();
        return new Command("record", "Notes how prints came to be: storage, drying, chamber, printer settings.") { id, prints, file, data }.WithBody(parsed =>
        {
            string path = parsed.GetRequiredValue(file);
            PrintRecord record = Read(path);
            using StudyStore store = StudyStore.Open(parsed.GetValue(data));
            Study study = store.Studies.Require(parsed.GetRequiredValue(id));
            foreach (string print in parsed.GetRequiredValue(prints).Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
            {
                if (study.Prints.All(p => p.Id != print)) throw new InputException($"The study {study.Id} has no print {print}; it has {string.Join(", ", study.Prints.Select(p => p.Id).Take(20))}.");
                study = StudyCorrections.Record(study, print, record);
            }

            IReadOnlyList<StudyFinding> findings = RecordRules.Check(study);
            string[] refused = [.. findings.Where(f => f.Refused).Select(f => f.Text)];
            if (refused.Length > 0) throw new InputException($"{path}: {string.Join(" ", refused)}");
            store.Studies.Save(study, $"record of {parsed.GetRequiredValue(prints)} from {Path.GetFileName(path)}");
            foreach (string text in findings.Select(f => f.Text).Concat(Confounding.Warnings(study))) CommandRunner.Say(text);
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study = study.Id, warnings = findings.Select(f => f.Text) });
            return ExitStatus.Done;
        });
    }

    /// <exception cref="InputException">The file is missing, too long or not such a record.</exception>
    internal static PrintRecord Read(string file)
    {
        if (!File.Exists(file)) throw InputException.In(file, "there is no such file.");
        if (new FileInfo(file).Length > FileBytesMax) throw InputException.In(file, $"longer than {FileBytesMax} bytes.");
        try
        {
            return JsonSerializer.Deserialize<PrintRecord>(File.ReadAllText(file), Options) ?? throw InputException.In(file, "an object was expected.");
        }
        catch (JsonException fault)
        {
            throw new InputException($"{file}, line {fault.LineNumber + 1}, key {(fault.Path ?? "$").TrimStart('$', '.')}: not a record of a print; docs/studies.md shows one.", fault);
        }
    }
}
