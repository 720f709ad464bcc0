using System.CommandLine;
using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study import</c>: strengths from a table join a study; what would happen is shown before it is applied.</summary>
internal static class StudyImportCommand
{
    /// <summary>What a column of the table can stand for.</summary>
    private static readonly string[] Fields = ["specimen", "material", "condition", "setting", "print", "strength_MPa", "outcome", "reason",
        "tries"];

    public static Command Create()
    {
        var id = new Argument<string>("STUDY") { Description = TerminalText.StudyId };
        var file = new Argument<string>("FILE") { Description = TerminalText.StudyImportFile };
        var columns = new Option<string[]>("--column") { Description = TerminalText.StudyImportColumn };
        var separate = new Option<bool>("--separate-prints") { Description = TerminalText.StudyImportSeparate };
        var pool = new Option<string?>("--pool") { Description = TerminalText.StudyImportPool, HelpName = "REASON" };
        var apply = new Option<bool>("--apply") { Description = TerminalText.StudyImportApply };
        var name = new Option<string?>("--name") { Description = TerminalText.StudyImportName };
        var settingName = new Option<string?>("--setting-name") { Description = TerminalText.StudyImportSettingName };
        var settingUnit = new Option<string?>("--setting-unit") { Description = TerminalText.StudyImportSettingUnit };
        return new Command("import", TerminalText.StudyImportCommand)
        {
            id, file, columns, separate, pool, name, settingName, settingUnit, apply, StudyStore.Data, StudyStore.Config,
        }.WithBody(parsed =>
        {
            string path = parsed.GetRequiredValue(file);
            Dictionary<string, string> mapping = Mapping(parsed.GetValue(columns) ?? []);
            using StudyStore store = StudyStore.Open(parsed, mayBeNew: true);
            string named = parsed.GetRequiredValue(id);
            Study? there = store.Archive.Studies.Find(named);
            bool isNew = there is null;
            Study study = there ?? New(named, parsed.GetValue(name), parsed.GetValue(settingName), parsed.GetValue(settingUnit));
            CsvTable table = CsvTable.Read(path, mapping["strength_MPa"]);
            ImportPreview preview = StudyImport.Preview(study, Rows(table, mapping), Path.GetFileName(path),
                TimeProvider.System.GetUtcNow(), parsed.GetValue(separate), !string.IsNullOrWhiteSpace(parsed.GetValue(pool)));
            Dictionary<string, string> used = Used(table, mapping);
            bool applied = parsed.GetValue(apply);
            if (applied
                && !preview.CanBeApplied) throw new InputException(string
                .Join(Environment.NewLine, preview.Findings.Where(f => f.Refused).Select(f => f.Text)));
            string why = TerminalText.StudyImported(preview.Strengths, Path.GetFileName(path), parsed.GetValue(pool));
            if (applied && isNew) store.Add(preview.Study, why);
            else if (applied) store.Edit(named, _ => preview.Study, why);
            if (parsed.GetValue(CommandTree.Json))
            {
                JsonAnswer.Write(new
                {
                    study = study.Id,
                    columns = used,
                    preview.Strengths,
                    applied,
                    newStudy = isNew,
                    newPrints = preview.NewPrints
                        .Select(p => new
                        {
                            p.Print.Id,
                            p.Print.Material,
                            p.Print.Condition,
                            settings = p.Print.Stretches.Select(s => s.Setting),
                            p.Specimens
                        }),
                    findings = preview.Findings.Select(f => f.Text),
                });
                return ExitStatus.Done;
            }

            if (isNew) CommandPlace.Output.WriteLine(TerminalText.StudyImportNewStudy(named));
            foreach ((string field, string column) in used) CommandPlace.Output.WriteLine(TerminalText.StudyImportFrom(field, column));
            foreach (var (print, specimens) in preview.NewPrints) CommandPlace.Output.WriteLine(TerminalText.StudyImportNewPrint(print.Id,
                print.Describe(study.SettingUnit), specimens));
            CommandPlace.Output.WriteLine(applied ? TerminalText.StudyImportJoined(preview.Strengths)
                : TerminalText.StudyImportWouldJoin(preview.Strengths, preview.CanBeApplied));
            foreach (StudyFinding finding in applied ? preview.Remarks : preview.Findings) CommandRunner.Say(finding.Text);
            return ExitStatus.Done;
        });
    }

    /// <summary>A study that holds nothing yet: the table brings its groups.</summary>
    private static Study New(string id, string? name, string? settingName, string? settingUnit)
    {
        var made = new Study { Id = id, Name = name ?? id, CreatedAt = TimeProvider.System.GetUtcNow(), SettingUnit = settingUnit ?? "" };
        return settingName is null ? made : made with { SettingName = settingName };
    }

    /// <summary>Which column each field is read from: its own name, unless said otherwise.</summary>
    internal static Dictionary<string, string> Mapping(IReadOnlyList<string> columns)
    {
        Dictionary<string, string> mapping = Fields.ToDictionary(f => f);
        foreach (string text in columns)
        {
            (string field, string column) = StudyChangeCommand.Pair(text, "--column")!.Value;
            if (!mapping.ContainsKey(field)) throw new InputException(TerminalText.StudyImportColumnNotKnown(field, Fields));
            mapping[field] = column;
        }

        return mapping;
    }

    /// <summary>The fields that are read, with their columns: a table that names specimens needs no more.</summary>
    internal static Dictionary<string, string> Used(CsvTable table, Dictionary<string, string> mapping)
    {
        bool bySpecimen = table.Has(mapping["specimen"]);
        return mapping.Where(one => table.Has(one.Value) && (!bySpecimen || one.Key is "specimen" or "strength_MPa")).ToDictionary();
    }

    internal static IReadOnlyList<ImportRow> Rows(CsvTable table, Dictionary<string, string> mapping)
    {
        foreach ((string field, string column) in mapping)
        {
            // What a person named has to be there; a column of its own name may be missing where it is not needed.
            if (column != field && !table.Has(column)) throw InputException.In(table.File,
                TerminalText.StudyImportColumnNotThere(field, column));
        }

        bool bySpecimen = table.Has(mapping["specimen"]);
        if (!bySpecimen && !(table.Has(mapping["material"]) && table.Has(mapping["condition"])))
            throw InputException.In(table.File,
                TerminalText.StudyImportNoColumns(mapping["specimen"], mapping["material"], mapping["condition"]));
        if (table.Rows.Count == 0) throw InputException.In(table.File, AppText.StudyImportNoRows);
        return [.. table.Rows.Select(row =>
        {
            if (!bySpecimen && table.Has(mapping["outcome"]) && row.Text(mapping["outcome"]) == PrintFailure.Word
                && row.Text(mapping["strength_MPa"]).Length == 0)
            {
                var failed = new GroupKey(Filled("material"), Filled("condition"), row.DecimalOrNull(mapping["setting"]));
                return new ImportRow(row.Line, null, failed, row.Text(mapping["print"]), null, row.Text(mapping["reason"]))
                {
                    Tries = CompareInput.Tries(row, mapping["tries"]),
                };
            }

            double strength = row.Number(mapping["strength_MPa"]);
            if (strength is not (> 0 and < Comparer.StrengthMegapascalsMax)) throw row
                .Fault(mapping["strength_MPa"], TerminalText.StudyImportStrengthExpected);
            if (bySpecimen) return new ImportRow(row.Line, Filled("specimen"), null, "", strength);
            return new ImportRow(row.Line, null,
                new GroupKey(Filled("material"), Filled("condition"), row.DecimalOrNull(mapping["setting"])), row.Text(mapping["print"]),
                strength);

            string Filled(string field) => row.Text(mapping[field]) is { Length: > 0 } text ? text
                : throw row.Fault(mapping[field], AppText.StudyImportEmpty);
        })];
    }
}
