using System.CommandLine;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Input;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study make</c>: materials × conditions × settings become prints, specimens and an order of breaking.</summary>
internal static class StudyMakeCommand
{
    public static Command Create()
    {
        var id = new Argument<string>("STUDY") { Description = "The new study's id: small letters, digits, hyphens, underscores." };
        var name = new Option<string?>("--name") { Description = "A name for people." };
        var materials = new Option<string[]>("--material") { Description = "A material, with its plastic where known: Alder or Alder=PLA. Once for each.", Required = true };
        var conditions = new Option<string[]>("--condition") { Description = "A condition. Once for each.", Required = true };
        var settings = new Option<string[]>("--setting") { Description = "A value of the numeric setting. Once for each." };
        var settingName = new Option<string>("--setting-name") { Description = "What the setting is.", DefaultValueFactory = _ => "setting" };
        var unit = new Option<string>("--setting-unit") { Description = "The setting's unit.", DefaultValueFactory = _ => "" };
        var prints = new Option<int>("--prints") { Description = "Prints a group.", DefaultValueFactory = _ => 1 };
        var specimens = new Option<int>("--specimens") { Description = "Specimens a print.", DefaultValueFactory = _ => 20 };
        var reference = new Option<string?>("--reference") { Description = "The condition that each other one is compared with; without it, all pairs." };
        Option<double> margin = PercentOption.Create("--margin", 5, "The margin of equivalence, in per cent of the reference mean.");
        Option<string?> basis = BasisOption.Create();
        var referenceSetting = new Option<string?>("--reference-setting") { Description = "The setting whose sections hold for the material, and that retained strength is relative to." };
        var seed = new Option<ulong>("--seed") { Description = "What the order of breaking is shuffled with.", DefaultValueFactory = _ => 1 };
        Option<string?> data = StudyStore.DataOption();
        var command = new Command("make", "Makes a study: materials × conditions × settings, prints and specimens, the order of breaking.")
        {
            id, name, materials, conditions, settings, settingName, unit, prints, specimens, reference, margin, basis, referenceSetting, seed, data,
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
                SpecimensPerPrint = parsed.GetValue(specimens),
                ReferenceCondition = parsed.GetValue(reference),
                EquivalenceMarginPercent = parsed.GetValue(margin),
                SectionBasis = BasisOption.Read(parsed.GetValue(basis)) ?? SectionBasis.PerSpecimen,
                ReferenceSetting = parsed.GetValue(referenceSetting) is { } text ? DecimalText.Read("--reference-setting", text) : null,
                Seed = parsed.GetValue(seed),
            };
            using StudyStore store = StudyStore.Open(parsed.GetValue(data));
            Keep(store, plan, TimeProvider.System.GetUtcNow());
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study, prints = store.Studies.Require(study).Prints.Count, specimens = store.Studies.Require(study).Specimens.Count });
            else if (StudyAtWork.Of(store.Archive) is { } worked && worked.Id != study) CommandRunner.Say($"Made {study}. {worked.Id} is still the study that is worked on; `rigdaq study work {study}` changes that.");
            else CommandRunner.Say($"Made {study}. Next: `rigdaq study plan` for what it resolves, `rigdaq study measure {study}` for its sections.");
            return ExitStatus.Done;
        });
    }

    internal static void Keep(StudyStore store, StudyPlan plan, DateTimeOffset now)
    {
        if (store.Studies.Exists(plan.Id)) throw new InputException($"There is a study {plan.Id} already; choose another id, or change it with `rigdaq study change`.");
        Study study;
        try
        {
            study = plan.Make(now);
        }
        catch (ArgumentException fault)
        {
            throw new InputException(fault.Message, fault);
        }

        store.Studies.Save(study, "made");
    }

    private static MaterialRecord Material(string text)
    {
        int equals = text.IndexOf('=', StringComparison.Ordinal);
        return equals < 0 ? new MaterialRecord(text.Trim(), "") : new MaterialRecord(text[..equals].Trim(), text[(equals + 1)..].Trim());
    }
}
