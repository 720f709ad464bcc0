using System.CommandLine;
using System.Globalization;
using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study make</c>: materials × conditions × settings become prints, specimens and an order of breaking.</summary>
internal static class StudyMakeCommand
{
    public static Command Create()
    {
        var id = new Argument<string>("STUDY") { Description = TerminalText.StudyMakeId };
        var name = new Option<string?>("--name") { Description = TerminalText.StudyMakeName };
        var materials = new Option<string[]>("--material") { Description = TerminalText.StudyMakeMaterial, Required = true };
        var conditions = new Option<string[]>("--condition") { Description = TerminalText.StudyMakeCondition, Required = true };
        var settings = new Option<string[]>("--setting") { Description = TerminalText.StudyMakeSetting };
        var settingName = new Option<string>("--setting-name")
        { Description = TerminalText.StudyMakeSettingName, DefaultValueFactory = _ => TerminalText.StudyMakeSettingUnnamed };
        var unit = new Option<string>("--setting-unit") { Description = TerminalText.StudyMakeSettingUnit, DefaultValueFactory = _ => "" };
        var prints = new Option<int>("--prints") { Description = TerminalText.StudyPlanPrints, DefaultValueFactory = _ => 1 };
        var printsOf = new Option<string[]>("--prints-of") { Description = TerminalText.StudyMakePrintsOf, HelpName = "MATERIAL=N" };
        var specimens = new Option<int>("--specimens") { Description = TerminalText.StudyPlanSpecimens, DefaultValueFactory = _ => 20 };
        var separate = new Option<bool>("--separate-prints") { Description = TerminalText.StudyMakeSeparate };
        var alternate = new Option<bool>("--alternate-order") { Description = TerminalText.StudyMakeAlternate };
        var leaveOut = new Option<string[]>("--leave-out") { Description = TerminalText.StudyMakeLeaveOut, HelpName = "GROUP" };
        var reference = new Option<string?>("--reference") { Description = TerminalText.StudyMakeReference };
        Option<double> margin = PercentOption.Create("--margin", 5, TerminalText.StudyMakeMargin);
        Option<string?> basis = BasisOption.Create();
        var referenceSetting = new Option<string?>("--reference-setting") { Description = TerminalText.StudyMakeReferenceSetting };
        var referenceMaterial = new Option<string?>("--reference-material") { Description = TerminalText.StudyMakeReferenceMaterial };
        Option<double> keeps = PercentOption.Create("--keeps", 90, TerminalText.StudyMakeKeeps);
        var questions = new Option<string?>("--questions") { Description = TerminalText.StudyMakeQuestions };
        var seed = new Option<ulong>("--seed") { Description = TerminalText.StudyMakeSeed, DefaultValueFactory = _ => 1 };
        var command = new Command("make", TerminalText.StudyMakeCommand)
        {
            id, name, materials, conditions, settings, settingName, unit, prints, printsOf, specimens, separate, alternate, leaveOut,
                reference, margin, basis, referenceSetting, referenceMaterial, keeps, questions, seed, StudyStore.Data, StudyStore.Config,
        };
        return command.WithBody(parsed =>
        {
            string study = parsed.GetRequiredValue(id);
            var plan = new StudyPlan
            {
                Id = study,
                Name = parsed.GetValue(name) ?? study,
                Materials = [.. parsed.GetRequiredValue(materials).Select(Material)],
                Conditions = parsed.GetRequiredValue(conditions),
                Settings = [.. (parsed.GetValue(settings) ?? []).Select(text => DecimalText.Read("--setting", text))],
                SettingName = parsed.GetRequiredValue(settingName),
                SettingUnit = parsed.GetRequiredValue(unit),
                PrintsPerGroup = parsed.GetValue(prints),
                PrintsOf = (parsed.GetValue(printsOf) ?? []).Select(PrintsOf).DistinctBy(pair => pair.Material)
                    .ToDictionary(pair => pair.Material, pair => pair.Prints),
                SpecimensPerStretch = parsed.GetValue(specimens),
                SeparatePrints = parsed.GetValue(separate),
                AlternateOrder = parsed.GetValue(alternate),
                ReferenceCondition = parsed.GetValue(reference),
                EquivalenceMarginPercent = parsed.GetValue(margin),
                SectionBasis = BasisOption.Read(parsed.GetValue(basis)) ?? SectionBasis.PerSpecimen,
                ReferenceSetting = parsed.GetValue(referenceSetting) is { } text ? DecimalText.Read("--reference-setting", text) : null,
                ReferenceMaterial = parsed.GetValue(referenceMaterial),
                KeepsPercent = parsed.GetValue(keeps),
                Questions = QuestionsOption.Read(parsed.GetValue(questions)),
                Seed = parsed.GetValue(seed),
            };
            using StudyStore store = StudyStore.Open(parsed, mayBeNew: true);
            Keep(store, plan with { LeftOut = [.. (parsed.GetValue(leaveOut) ?? []).SelectMany(plan.GroupsNamed)] },
                TimeProvider.System.GetUtcNow());
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new
            { study, prints = store.Require(study).Prints.Count, specimens = store.Require(study).Specimens.Count });
            else if (store.Archive.Studies.Active() is { } worked
                && worked.Id != study) CommandRunner.Say(TerminalText.StudyMadeOtherWorkedOn(study, worked.Id));
            else CommandRunner.Say(TerminalText.StudyMadeNext(study));
            return ExitStatus.Done;
        });
    }

    internal static void Keep(StudyStore store, StudyPlan plan, DateTimeOffset now) => store.Add(plan.Make(now), AppText.StudyMade);

    private static (string Material, int Prints) PrintsOf(string text)
    {
        (string material, string count) = StudyChangeCommand.Pair(text, "--prints-of")!.Value;
        return int.TryParse(count, NumberStyles.None, CultureInfo.InvariantCulture, out int prints) ? (material, prints)
            : throw new InputException(TerminalText.StudyPairExpected("--prints-of", text));
    }

    private static MaterialRecord Material(string text)
    {
        int equals = text.IndexOf('=', StringComparison.Ordinal);
        return equals < 0 ? new MaterialRecord(text.Trim(), "") : new MaterialRecord(text[..equals].Trim(), text[(equals + 1)..].Trim());
    }
}
