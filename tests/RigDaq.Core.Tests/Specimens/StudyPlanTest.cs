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
        SpecimensPerPrint = 5,
        Seed = 7,
    };

    [Fact]
    public void A_plan_becomes_prints_specimens_and_an_order_in_blocks()
    {
        Study study = Demo.Make(Studies.Start);
        Assert.Equal(12, study.Prints.Count);
        Assert.Equal(60, study.Specimens.Count);
        Assert.Equal(12, study.Specimens.OrderBy(s => s.Order).Take(12).Select(s => s.PrintId).Distinct().Count());
        Assert.Empty(StudyRules.Check(study));
        Assert.Equal("P01-01", study.Specimens.Select(s => s.Id).Order(StringComparer.Ordinal).First());
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
        Assert.Contains("10000", Assert.Throws<ArgumentException>(() => (Demo with { SpecimensPerPrint = 1000 }).Make(Studies.Start)).Message, StringComparison.Ordinal);

    [Fact]
    public void A_renamed_condition_is_renamed_in_the_plan_too()
    {
        Study study = StudyCorrections.RenameCondition(StudyCorrections.Freeze(Demo.Make(Studies.Start), Studies.Start), "fan on", "fan at full");
        Assert.Empty(StudyRules.Check(study));
        Assert.Equal("fan at full", study.ReferenceCondition);
        Assert.All(study.PlannedComparisons!, c => Assert.Equal("fan at full", c.Reference));
        Assert.Throws<ArgumentException>(() => StudyCorrections.RenameCondition(study, "fan on", "x"));
    }

    [Fact]
    public void Sections_can_be_measured_again_and_taken_back()
    {
        Study study = Studies.Two();
        Study changed = StudyCorrections.Measure(study, "A-01", Studies.Flat(5, 4));
        Assert.Equal(5, changed.Specimens[0].Section!.WidthsMillimetres[0]);
        Assert.Null(StudyCorrections.Measure(changed, "A-01", null).Specimens[0].Section);
        Assert.Throws<ArgumentException>(() => StudyCorrections.Measure(study, "A-01", Studies.Flat(0, 4)));
        Assert.Throws<ArgumentException>(() => StudyCorrections.Measure(study, "none", null));
    }

    [Fact]
    public void A_label_names_study_specimen_group_and_place_and_its_code_reads_back()
    {
        Study study = Demo.Make(Studies.Start);
        SpecimenLabel label = SpecimenLabel.Of(study)[0];
        Assert.Equal("fan-and-heat/P01-01", label.Code);
        Assert.Equal(("fan-and-heat", "P01-01"), SpecimenLabel.Read(label.Code));
        Assert.Equal("Alder, fan on, 190 °C", label.Lines[0]);
        Assert.Null(SpecimenLabel.Read("nothing"));
    }
}
