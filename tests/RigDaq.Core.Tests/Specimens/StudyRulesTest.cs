using RigDaq.Core.Specimens;

namespace RigDaq.Core.Tests.Specimens;

public class StudyRulesTest
{
    [Fact]
    public void A_sound_study_has_no_findings() => Assert.Empty(StudyRules.Check(Studies.Two()));

    [Fact]
    public void Duplicate_specimens_are_refused_by_name()
    {
        Study study = Studies.Two();
        study = study with { Specimens = [.. study.Specimens, study.Specimens[0] with { Order = 99 }] };
        Assert.Contains(StudyRules.Check(study), f => f.Refused && f.Text.AsKept().Contains("A-01", StringComparison.Ordinal));
    }

    [Fact]
    public void Everything_that_is_wrong_is_told_at_once()
    {
        Study study = Studies.Two() with
        {
            Id = "Not Fit/for a file",
            EquivalenceMarginPercent = 0,
            ReferenceCondition = "nowhere",
            SectionBasis = SectionBasis.ReferenceSetting,
            ReferenceSetting = null,
        };
        study = study with
        { Specimens = [.. study.Specimens, new Specimen { Id = "x", PrintId = "missing", Order = 1, Section = Studies.Flat(0, 1) }] };
        Assert.Equal(7, StudyRules.Check(study).Count(f => f.Refused));
    }

    [Fact]
    public void Names_that_differ_by_a_capital_or_a_space_are_pointed_out()
    {
        Study study = Studies.Two() with { Prints = [Studies.Print("A", "fan on"), Studies.Print("B", "Fan  on")] };
        Assert.Contains(StudyRules.Check(study), f => !f.Refused && f.Text.AsKept().Contains("“Fan  on”", StringComparison.Ordinal));
    }

    [Fact]
    public void Unequal_settings_between_conditions_are_pointed_out()
    {
        Study study = Studies.Two() with { Prints = [Studies.Print("A", "fan on"), Studies.Print("B", "fan off", 230)] };
        Assert.Equal(2,
            StudyRules.Check(study).Count(f => !f.Refused && f.Text.AsKept().Contains("settings are unequal", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_planned_comparison_must_name_groups_that_there_are()
    {
        Study study = Studies.Two() with
        {
            PlannedComparisons = [new PlannedComparison("Alder", 210, "fan half", "fan on"),
            new PlannedComparison("Alder", 210, "fan on", "fan on")]
        };
        Assert.Equal(2, StudyRules.Check(study).Count(f => f.Refused));
    }
}
