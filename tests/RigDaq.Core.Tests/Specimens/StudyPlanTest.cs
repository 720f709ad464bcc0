using RigDaq.Core.Specimens;

namespace RigDaq.Core.Tests.Specimens;

public class StudyPlanTest
{
    internal static readonly StudyPlan Demo = new()
    {
        Id = "fan-and-heat",
        Name = "Fan and heat",
        Materials = [new MaterialRecord("Alder", "PLA"), new MaterialRecord("Birch", "PETG")],
        Conditions = ["fan on", "fan off"],
        Settings = [190, 210, 230],
        SettingName = "nozzle temperature",
        SettingUnit = "°C",
        ReferenceCondition = "fan on",
        SpecimensPerStretch = 5,
        Seed = 7,
    };

    [Fact]
    public void A_plan_becomes_prints_with_stretches_specimens_and_an_order_in_blocks_of_one_from_every_stretch()
    {
        Study study = Demo.Make(Studies.Start);
        Assert.Equal(4, study.Prints.Count);
        Assert.All(study.Prints, p => Assert.Equal([190m, 210m, 230m], p.Stretches.Select(s => s.Setting!.Value)));
        Assert.Equal(12, study.Groups().Count);
        Assert.Equal(60, study.Specimens.Count);
        for (int block = 0; block < 5; block++)
            Assert.Equal(12, study.Specimens.OrderBy(s => s.Order).Skip(12 * block).Take(12).Select(s => (s.PrintId, s.Setting)).Distinct()
                .Count());
        Assert.Empty(StudyRules.Check(study));
        Specimen first = study.Specimens.OrderBy(s => s.Id, StringComparer.Ordinal).First(),
            last = study.Specimens.OrderBy(s => s.Id, StringComparer.Ordinal).Last();
        Assert.Equal(("P01A-01", 190m), (first.Id, first.Setting!.Value));
        Assert.Equal(("P04C-05", 230m), (last.Id, last.Setting!.Value));
    }

    [Fact]
    public void Prints_of_one_setting_each_are_made_where_they_are_wanted()
    {
        Study study = (Demo with { SeparatePrints = true }).Make(Studies.Start);
        Assert.Equal(12, study.Prints.Count);
        Assert.Equal(12, study.Specimens.OrderBy(s => s.Order).Take(12).Select(s => s.PrintId).Distinct().Count());
        Assert.Equal("P01-01", study.Specimens.Select(s => s.Id).Order(StringComparer.Ordinal).First());
        Assert.Empty(StudyRules.Check(study));
    }

    [Fact]
    public void A_group_can_be_left_out_by_its_name()
    {
        StudyPlan plan = Demo with { LeftOut = [.. Demo.GroupsNamed("Birch, fan on,230"), .. Demo.GroupsNamed("Alder, 190")] };
        Study study = plan.Make(Studies.Start);
        Assert.Equal(9, study.Groups().Count);
        Assert.DoesNotContain(new GroupKey("Birch", "fan on", 230), study.Groups());
        Assert.DoesNotContain(study.Groups(), g => g is { Material: "Alder", Setting: 190 });
        Assert.Equal(9 * 5, study.Specimens.Count);
        Assert.Contains("“Cedar, 190”", Assert.Throws<RefusalException>(() => Demo.GroupsNamed("Cedar, 190")).Message,
            StringComparison.Ordinal);
        // All of one print left out leaves no print.
        Assert.Equal(3, (Demo with { LeftOut = Demo.GroupsNamed("Birch, fan on") }).Make(Studies.Start).Prints.Count);
    }

    [Fact]
    public void Every_second_print_can_have_its_stretches_the_other_way_round()
    {
        Study study = (Demo with { PrintsPerGroup = 2, AlternateOrder = true }).Make(Studies.Start);
        Assert.Equal([190m, 210m, 230m], study.Prints[0].Stretches.Select(s => s.Setting!.Value));
        Assert.Equal([230m, 210m, 190m], study.Prints[1].Stretches.Select(s => s.Setting!.Value));
        Assert.Empty(StudyRules.Check(study));
    }

    [Fact]
    public void Freezing_writes_the_comparisons_out_and_later_changes_are_told()
    {
        Study frozen = StudyCorrections.Freeze(Demo.Make(Studies.Start), Studies.Start);
        Assert.Equal(6, frozen.PlannedComparisons!.Count);
        Assert.All(frozen.PlannedComparisons, c => Assert.Equal("fan on", c.Reference));
        Assert.Same(frozen, StudyCorrections.Freeze(frozen, Studies.Start.AddDays(1)));
        Assert.Empty(StudyCorrections.PlanChanges(frozen, frozen));
        Assert.Single(StudyCorrections.PlanChanges(frozen, frozen with { EquivalenceMarginPercent = 10 }));
        Assert.Single(StudyCorrections.PlanChanges(frozen, frozen with { PlannedComparisons = [] }));
    }

    [Fact]
    public void Too_many_specimens_are_refused() =>
        Assert.Contains("10000",
            Assert.Throws<RefusalException>(() => (Demo with { SpecimensPerStretch = 1000 }).Make(Studies.Start)).Message,
            StringComparison.Ordinal);

    [Fact]
    public void A_renamed_condition_is_renamed_in_the_plan_too()
    {
        Study study = StudyCorrections.RenameCondition(StudyCorrections.Freeze(Demo.Make(Studies.Start), Studies.Start), "fan on",
            "fan at full");
        Assert.Empty(StudyRules.Check(study));
        Assert.Equal("fan at full", study.ReferenceCondition);
        Assert.All(study.PlannedComparisons!, c => Assert.Equal("fan at full", c.Reference));
        Assert.Throws<RefusalException>(() => StudyCorrections.RenameCondition(study, "fan on", "x"));
    }

    [Fact]
    public void Sections_can_be_measured_again_and_taken_back()
    {
        Study study = Studies.Two();
        Study changed = StudyCorrections.Measure(study, "A-01", Studies.Flat(5, 4));
        Assert.Equal(5, changed.Specimens[0].Section!.WidthsMillimetres[0]);
        Assert.Null(StudyCorrections.Measure(changed, "A-01", null).Specimens[0].Section);
        Assert.Throws<RefusalException>(() => StudyCorrections.Measure(study, "A-01", Studies.Flat(0, 4)));
        Assert.Throws<RefusalException>(() => StudyCorrections.Measure(study, "none", null));
    }

    [Fact]
    public void A_label_names_study_specimen_group_and_place()
    {
        Study study = Demo.Make(Studies.Start);
        SpecimenLabel label = SpecimenLabel.Of(study)[0];
        Assert.Equal("fan-and-heat/P01A-01", label.Code);
        Assert.Equal("Alder, fan on, 190 °C", label.Lines[0]);
    }
}
