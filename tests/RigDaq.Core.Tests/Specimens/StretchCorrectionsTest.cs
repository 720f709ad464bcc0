using RigDaq.Core.Specimens;

namespace RigDaq.Core.Tests.Specimens;

public class StretchCorrectionsTest
{
    private static readonly HashSet<string> None = [];

    [Fact]
    public void What_could_not_be_printed_is_a_result_with_its_reason_and_its_specimens_leave_the_study()
    {
        Study study = StudyPlanTest.Demo.Make(Studies.Start);
        Study failed = StretchCorrections.CouldNotBePrinted(study, "P04", 230, new PrintFailure("layers parted", 3), None);
        Assert.Empty(StudyRules.Check(failed));
        Assert.Equal(55, failed.Specimens.Count);
        Assert.Equal("layers parted", failed.Prints[3].At(230)!.Failure!.Reason);
        Assert.Contains(new GroupKey("Birch", "fan off", 230), failed.Groups());
        // Each try in vain counts as a print that was tried: one print, three tries.
        Assert.Equal((3, 3), failed.PrintsOf(new GroupKey("Birch", "fan off", 230)));

        Study again = StretchCorrections.WasPrinted(failed, "P04", 230, 4);
        Assert.Empty(StudyRules.Check(again));
        Assert.Equal([61, 62, 63, 64], again.SpecimensIn(new GroupKey("Birch", "fan off", 230)).Select(s => s.Order));
        Assert.Throws<RefusalException>(() => StretchCorrections.WasPrinted(again, "P04", 230, 4));
        // A slipped key must not fill the memory.
        Assert.Contains("at most 10000", Refusal(() => StretchCorrections.WasPrinted(failed, "P04", 230, 2_000_000_000)),
            StringComparison.Ordinal);
    }

    [Fact]
    public void What_was_pulled_was_printed()
    {
        Study study = StudyPlanTest.Demo.Make(Studies.Start);
        string pulled = study.SpecimensIn(new GroupKey("Birch", "fan off", 230)).First().Id;
        Assert.Contains("it was printed",
            Refusal(() => StretchCorrections.CouldNotBePrinted(study, "P04", 230, new PrintFailure("x", 1),
            new HashSet<string> { pulled })), StringComparison.Ordinal);
        Assert.Contains("no stretch at 250 °C",
            Refusal(() => StretchCorrections.CouldNotBePrinted(study, "P04", 250, new PrintFailure("x", 1), None)),
            StringComparison.Ordinal);
        Assert.Contains(StudyRules.Check(StretchCorrections.CouldNotBePrinted(study, "P04", 230, new PrintFailure(" ", 0), None)),
            f => f.Refused && f.Text.AsKept().Contains("say why", StringComparison.Ordinal));
    }

    [Fact]
    public void Prints_that_were_entered_one_a_setting_become_one()
    {
        Study separate = (StudyPlanTest.Demo with { SeparatePrints = true }).Make(Studies.Start);
        string[] ids = [.. separate.Prints.Where(p => p is { Material: "Alder", Condition: "fan on" }).Select(p => p.Id)];
        Study joined = StretchCorrections.JoinPrints(separate, ids);
        Assert.Empty(StudyRules.Check(joined));
        Assert.Equal(10, joined.Prints.Count);
        Assert.Equal([190m, 210m, 230m], joined.Prints.Single(p => p.Id == ids[0]).Stretches.Select(s => s.Setting!.Value));
        Assert.Equal(separate.GroupOfSpecimens(), joined.GroupOfSpecimens());
        Assert.Equal(15, joined.Specimens.Count(s => s.PrintId == ids[0]));
    }

    [Fact]
    public void Prints_that_cannot_be_one_are_not_joined()
    {
        Study separate = (StudyPlanTest.Demo with { SeparatePrints = true, PrintsPerGroup = 2 }).Make(Studies.Start);
        Assert.Contains("two prints", Refusal(() => StretchCorrections.JoinPrints(separate, ["P01", "P02"])), StringComparison.Ordinal);
        Assert.Contains("one material and condition", Refusal(() => StretchCorrections.JoinPrints(separate, ["P01", "P03"])),
            StringComparison.Ordinal);
        Assert.Contains("at least two", Refusal(() => StretchCorrections.JoinPrints(separate, ["P01", "P01"])), StringComparison.Ordinal);
        Study noted = StudyCorrections.Record(StudyCorrections.Record(separate, "P01", new PrintRecord { Notes = "a" }), "P05",
            new PrintRecord { Notes = "b" });
        Assert.Contains("different print histories", Refusal(() => StretchCorrections.JoinPrints(noted, ["P01", "P05"])),
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_specimen_moves_to_the_same_setting_of_another_print_and_elsewhere_only_where_it_is_said()
    {
        Study study = StudyPlanTest.Demo.Make(Studies.Start);
        Assert.Equal(new GroupKey("Alder", "fan off", 190), StudyCorrections.MoveSpecimen(study, "P01A-01", "P02").GroupOf("P01A-01"));
        Assert.Equal(new GroupKey("Alder", "fan off", 230), StudyCorrections.MoveSpecimen(study, "P01A-01", "P02", 230).GroupOf("P01A-01"));
        Assert.Throws<RefusalException>(() => StudyCorrections.MoveSpecimen(study, "P01A-01", "P02", 250));
    }

    private static string Refusal(Action work) => Assert.Throws<RefusalException>(work).Message;
}
