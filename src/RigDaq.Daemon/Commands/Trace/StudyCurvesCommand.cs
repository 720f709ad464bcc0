using System.CommandLine;
using RigDaq.App.Curves;
using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;
using RigDaq.Tables.Readings;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study curves</c>: recordings of others become runs of a study, with sections typed or from a
/// table.</summary>
internal static class StudyCurvesCommand
{
    private static readonly Argument<string> Id = new("STUDY") { Description = TerminalText.StudyCurvesStudy };
    private static readonly Argument<string[]> Files = new("FILE")
    {
        Description = TerminalText.StudyCurvesFiles,
        Arity = ArgumentArity.ZeroOrMore
    };
    private static readonly Option<string?> Table = new("--table")
    {
        Description = TerminalText.StudyCurvesTable,
        HelpName = "TABLE"
    };
    private static readonly Option<string?> Name = new("--name") { Description = TerminalText.StudyMakeName };
    private static readonly Option<string?> SettingName = new("--setting-name") { Description = TerminalText.StudyMakeSettingName };
    private static readonly Option<string?> SettingUnit = new("--setting-unit") { Description = TerminalText.StudyMakeSettingUnit };
    private static readonly Option<string?> Reference = new("--reference") { Description = TerminalText.StudyMakeReference };
    private static readonly Option<string?> Material = new("--material") { Description = TerminalText.StudyCurvesMaterial };
    private static readonly Option<string?> Condition = new("--condition") { Description = TerminalText.StudyCurvesCondition };
    private static readonly Option<string?> Setting = new("--setting") { Description = TerminalText.StudyCurvesSetting };
    private static readonly Option<string?> Print = new("--print") { Description = TerminalText.StudyCurvesPrint };
    private static readonly Option<string?> Ending = new("--ending") { Description = TerminalText.StudyCurvesEnding, HelpName = "ENDING" };
    private static readonly Option<double[]> Width = new("--width")
    {
        Description = TerminalText.StudyCurvesWidth,
        HelpName = "MM"
    };
    private static readonly Option<double[]> Thickness = new("--thickness")
    {
        Description = TerminalText.StudyCurvesThickness,
        HelpName = "MM"
    };
    private static readonly Option<double?> Area = new("--area") { Description = TerminalText.StudyCurvesArea, HelpName = "MM2" };
    private static readonly Option<double> Remaining = new("--remaining")
    {
        Description = TerminalText.TraceRemaining,
        DefaultValueFactory = _ => 40
    };
    private static readonly Option<bool> Preview = new("--preview") { Description = TerminalText.StudyCurvesPreview };

    public static Command Create()
    {
        var command = new Command("curves", TerminalText.StudyCurvesCommand)
        {
            Id, Files, Table, Name, SettingName, SettingUnit, Reference, Material, Condition, Setting, Print, Ending, Width,
                Thickness, Area, Remaining, Preview,
        };
        foreach (Option option in ReadingOption.All.Where(option => option != ReadingOption.SaveLayout)) command.Add(option);
        command.Add(StudyStore.Data);
        command.Add(StudyStore.Config);
        return command.WithBody(Run);
    }

    private static int Run(ParseResult parsed)
    {
        var detection = new DetectionSettings { RemainingPercent = parsed.GetValue(Remaining) };
        if (detection.RemainingPercent is not (>= 1 and <= 99)) throw new InputException(TerminalText.TraceRemainingRange);
        ReadingOptions reading = ReadingOption.Read(parsed);
        IReadOnlyList<CurveOfSpecimen> curves = Curves(parsed, reading);
        bool keep = !parsed.GetValue(Preview);
        using StudyStore store = StudyStore.Open(parsed, mayBeNew: keep);
        Study study = store.Archive.Studies.Find(parsed.GetRequiredValue(Id)) ?? NewStudy(parsed);
        CurvesJoined joined = new StudyCurves(store.Archive, TimeProvider.System).Join(study, curves, detection, keep);
        if (parsed.GetValue(CommandTree.Json))
        {
            JsonAnswer.Write(new
            {
                study = study.Id,
                kept = keep,
                runs = joined.Runs.Select(run => new
                {
                    file = run.Head.Recording!.File,
                    curve = run.Head.Recording.Curve.Length == 0 ? null : run.Head.Recording.Curve,
                    specimen = run.Head.SpecimenId,
                    ending = run.Ending.Word(),
                    peakForceNewtons = run.Reading?.PeakForceNewtons,
                    strengthMegapascals = run.Strength?.Megapascals,
                    warnings = run.Warnings,
                }),
                thereAlready = joined.ThereAlready,
                findings = joined.Remarks,
            });
            return ExitStatus.Done;
        }

        foreach (Run run in joined.Runs)
        {
            CommandPlace.Output.WriteLine(TerminalText.StudyCurvesRun(
                AppText.CurveName(run.Head.Recording!.File, run.Head.Recording.Curve), run.Head.SpecimenId,
                    run.Ending.Spoken(),
                run.Reading?.PeakForceNewtons, run.Strength?.Megapascals));
        }

        foreach (string there in joined.ThereAlready) CommandRunner.Say(TerminalText.StudyCurvesThere(there));
        foreach (string remark in joined.Remarks) CommandRunner.Say(remark);
        int uncounted = joined.Runs.Count(run => run.Ending != PullEnding.Broken);
        if (uncounted > 0) CommandRunner.Say(TerminalText.StudyCurvesUncounted(uncounted, joined.Runs.Count));
        CommandPlace.Output.WriteLine(keep ? TerminalText.StudyCurvesKept(joined.Runs.Count, study.Id)
            : TerminalText.StudyCurvesWould(joined.Runs.Count, study.Id));
        return ExitStatus.Done;
    }

    private static Study NewStudy(ParseResult parsed)
    {
        string id = parsed.GetRequiredValue(Id);
        return new Study
        {
            Id = id,
            Name = parsed.GetValue(Name) ?? id,
            CreatedAt = TimeProvider.System.GetUtcNow(),
            SettingName = parsed.GetValue(SettingName) ?? TerminalText.StudyMakeSettingUnnamed,
            SettingUnit = parsed.GetValue(SettingUnit) ?? "",
            ReferenceCondition = parsed.GetValue(Reference),
        };
    }

    private static IReadOnlyList<CurveOfSpecimen> Curves(ParseResult parsed, ReadingOptions reading)
    {
        string[] files = parsed.GetValue(Files) ?? [];
        if (parsed.GetValue(Table) is not { } table) return Typed(parsed, files, reading);
        if (new Option?[] { Material, Condition, Setting, Print, Ending, Width, Thickness, Area }.FirstOrDefault(option =>
            parsed.GetResult(option!) is not null) is { } typed)
            throw new InputException(TerminalText.StudyCurvesTableAndTyped(typed.Name));
        IReadOnlyList<CurveRow> rows = CurveRows.Read(table, CurveFile.Bytes(table), CommandRunner.Say);
        return CurveMatch.Match(table, rows, files, reading);
    }

    // One group for all files; without a table every curve of every file is a specimen of it.
    private static CurveOfSpecimen[] Typed(ParseResult parsed, string[] files, ReadingOptions reading)
    {
        if (files.Length == 0) throw new InputException(TerminalText.StudyCurvesNothing);
        if (parsed.GetValue(Material) is not { Length: > 0 } material
            || parsed.GetValue(Condition) is not { Length: > 0 } condition)
            throw new InputException(TerminalText.StudyCurvesGroupMissing);
        decimal? setting = parsed.GetValue(Setting) is { } text ? DecimalText.Read("--setting", text) : null;
        PullEnding? ending = CurveRows.EndingOf(parsed.GetValue(Ending) ?? "");
        SectionMeasurement? section = CurveRows.SectionOf(
            parsed.GetValue(Width) ?? [], parsed.GetValue(Thickness) ?? [], parsed.GetValue(Area), null);

        var group = new GroupKey(material, condition, setting);
        return [.. CurveMatch.Read(files, reading)
            .SelectMany(source =>
                source.Reading.Curves.Select(curve =>
                new CurveOfSpecimen(source, curve,
                new CurveRow(0, source.Name, curve.Name, "", group, parsed.GetValue(Print) ?? "", section, ending))))];
    }
}
