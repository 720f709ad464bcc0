using RigDaq.Core.Specimens;

namespace RigDaq.Core.Tests.Specimens;

public class RecordRulesTest
{
    private static readonly PrintRecord Plain = new()
    {
        Storage = [new StorageSpell("open shelf", 21, 55, 240)],
        ChamberTemperatureCelsius = 24,
        PrinterSettings = [new PrinterSetting("cooling fan", "100 %"), new PrinterSetting("layer height", "0.2 mm")],
    };

    private static readonly PrinterSetting[] FanOff = [new("cooling fan", "0 %"), new("layer height", "0.2 mm")];

    [Fact]
    public void A_dryer_that_runs_away_is_told_and_so_is_one_too_hot_for_the_plastic()
    {
        // Drying temperatures in use, PLA 45 to 55 °C: common practice, no source (from memory).
        IReadOnlyList<StudyFinding> findings =
            RecordRules.Check(With(new DryingSpell { SetTemperatureCelsius = 50, MeasuredTemperatureCelsius = 63, Hours = 6 }));
        Assert.Contains(findings, f => f.Text.AsKept().Contains("reached 63 °C where 50 °C were set", StringComparison.Ordinal));
        Assert.Contains(findings, f => f.Text.AsKept().Contains("45 to 55 °C in use for PLA", StringComparison.Ordinal));
        Assert.Empty(RecordRules.Check(With(new DryingSpell { SetTemperatureCelsius = 50, MeasuredTemperatureCelsius = 52, Hours = 6 })));
    }

    [Fact]
    public void Uptake_is_what_left_over_the_dry_mass()
    {
        Assert.Equal(0.4, new DryingSpell { MassBeforeGrams = 1004, MassAfterGrams = 1000 }.UptakePercent!.Value, 12);
        Assert.Null(new DryingSpell { MassBeforeGrams = 1004 }.UptakePercent);
        Assert.Contains(RecordRules.Check(With(new DryingSpell
        { MeasuredTemperatureCelsius = 50, MassBeforeGrams = 1000, MassAfterGrams = 1004 })),
            f => f.Text.Code == "heavierAfterDrying");
    }

    [Fact]
    public void Impossible_figures_are_refused()
    {
        Study study = Studies.Two();
        study = StudyCorrections.Record(study, "A",
            Plain with { Storage = [new StorageSpell("x", -300, 120, -1)], ChamberTemperatureCelsius = 5000 });
        Assert.Equal(4, RecordRules.Check(study).Count(f => f.Refused));
    }

    [Fact]
    public void Missing_records_are_told()
    {
        Assert.Single(RecordRules.Check(Studies.Two()));
        Assert.Contains(RecordRules.Check(StudyCorrections.Record(Studies.Two(), "A", Plain)),
            f => f.Text.AsKept().EndsWith(": B.", StringComparison.Ordinal));
    }

    [Fact]
    public void A_comparison_whose_groups_differ_in_two_things_is_confounded()
    {
        Assert.Empty(Confounding.Warnings(Both(Plain, Plain with { PrinterSettings = FanOff, ChamberTemperatureCelsius = 26 })));
        string warning =
            Assert.Single(Confounding.Warnings(Both(Plain, Plain with { PrinterSettings = FanOff, ChamberTemperatureCelsius = 40 })));
        Assert.Contains("chamber temperature, cooling fan", warning, StringComparison.Ordinal);
        Assert.Contains("are the same", Assert.Single(Confounding.Warnings(Both(Plain, Plain))), StringComparison.Ordinal);
    }

    [Fact]
    public void Dried_against_not_dried_is_one_difference()
    {
        var dried = Plain with { Drying = [new DryingSpell { MeasuredTemperatureCelsius = 50, Hours = 8 }] };
        Assert.Equal(["drying"],
            Confounding.Differences(Both(Plain, dried), Studies.Two().Prints[1].GroupAt(210), Studies.Two().Prints[0].GroupAt(210))!);
    }

    [Fact]
    public void Settings_in_one_order_along_the_height_of_every_print_are_told()
    {
        StudyPlan plan = StudyPlanTest.Demo with { PrintsPerGroup = 2 };
        Assert.Contains(Confounding.Warnings(plan.Make(Studies.Start)), w => w.Code == "settingAndPlaceTogether");
        Assert.Empty(Confounding.Warnings((plan with { AlternateOrder = true }).Make(Studies.Start)));
        Assert.Empty(Confounding.Warnings((plan with { SeparatePrints = true }).Make(Studies.Start)));
    }

    private static Study Both(PrintRecord a, PrintRecord b)
        => StudyCorrections.Record(StudyCorrections.Record(Studies.Two(), "A", a), "B", b);

    private static Study With(DryingSpell spell)
        => Both(Plain with { Drying = [spell] }, Plain) with { Materials = [new MaterialRecord("Alder", "PLA")] };
}
