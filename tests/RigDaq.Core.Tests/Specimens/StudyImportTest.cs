using RigDaq.Core.Comparisons;
using RigDaq.Core.Specimens;

namespace RigDaq.Core.Tests.Specimens;

public class StudyImportTest
{
    private static readonly GroupKey Off = new("Alder", "fan off", 210);

    [Fact]
    public void Strengths_join_specimens_that_are_there_and_count_as_imported()
    {
        ImportPreview preview = StudyImport.Preview(Studies.Two(1),
            [new ImportRow(2, "A-01", null, "", 38), new ImportRow(3, "B-01", null, "", 41)], "old.csv", Studies.Start);
        Assert.True(preview.CanBeApplied);
        StudyAnswer answer = StudyComparison.Of(preview.Study, []);
        Assert.Equal([38.0, 41.0], answer.Strengths.Select(s => s.Megapascals));
        Assert.All(answer.Strengths, s => Assert.True(s.Imported));
        Assert.Contains(answer.Warnings, w => w.AsKept().Contains("2 strengths were imported", StringComparison.Ordinal));
        Assert.Equal("old.csv, line 2", preview.Study.Imported[0].Source);
    }

    [Fact]
    public void Without_a_specimen_new_prints_and_specimens_are_made_at_the_end_of_the_order()
    {
        ImportPreview preview = StudyImport.Preview(Studies.Two(2),
            [new ImportRow(2, null, Off, "x", 38), new ImportRow(3, null, Off, "y", 39), new ImportRow(4, null, Off, "x", 40)], "old.csv",
                Studies.Start, pool: true);
        Assert.Equal([("I01", 2), ("I02", 1)], preview.NewPrints.Select(p => (p.Print.Id, p.Specimens)));
        Assert.Equal([5, 6, 7], preview.Study.Specimens.Skip(4).Select(s => s.Order));
        Assert.True(preview.CanBeApplied);
        Assert.DoesNotContain(StudyImport.Preview(preview.Study, [new ImportRow(2, null, Off, "x", 38)], "b.csv", Studies.Start,
            pool: true).Findings, f => f.Refused);
    }

    [Fact]
    public void One_print_name_at_several_settings_is_one_print_with_stretches_and_that_is_said()
    {
        GroupKey Cedar(string condition, decimal setting) => new("Cedar", condition, setting);
        ImportRow[] rows =
        [
            new(2, null, Cedar("dry", 210), "x", 38), new(3, null, Cedar("dry", 230), "x", 39), new(4, null, Cedar("dry", 210), "x", 40),
            new(5, null, Cedar("wet", 210), "x", 41), new(6, null, Cedar("wet", 230), "", 42), new(7, null, Cedar("wet", 250), "", 43),
            new(8, null, Cedar("dry", 250), "x", null),
        ];
        ImportPreview preview = StudyImport.Preview(Studies.Two(2), rows, "old.csv", Studies.Start);
        Assert.True(preview.CanBeApplied);
        Assert.Equal(6, preview.Strengths);
        Assert.Equal(["210 230 250", "210", "230", "250"],
            preview.NewPrints.Select(p => string.Join(" ", p.Print.Stretches.Select(s => s.Setting))));
        Assert.Equal([3, 1, 1, 1], preview.NewPrints.Select(p => p.Specimens));
        Assert.NotNull(preview.NewPrints[0].Print.At(250)!.Failure);
        Assert.Contains(preview.Remarks, r => r.Text.Code == "onePrintAtSeveralSettingsText");
        Assert.Contains(preview.Remarks, r => r.Text.Code == "printNameInTwoConditionsText");

        ImportPreview separate = StudyImport.Preview(Studies.Two(2), rows, "old.csv", Studies.Start, separatePrints: true);
        Assert.Equal(6, separate.NewPrints.Count);
        Assert.All(separate.NewPrints, p => Assert.Single(p.Print.Stretches));
    }

    [Fact]
    public void Earlier_strengths_are_never_pooled_in_silence()
    {
        ImportPreview preview = StudyImport.Preview(Studies.Two(2), [new ImportRow(2, null, Off, "x", 38)], "old.csv", Studies.Start);
        Assert.False(preview.CanBeApplied);
        Assert.Contains("--pool", preview.Findings.Single(f => f.Refused).Text, StringComparison.Ordinal);
    }

    [Fact]
    public void An_unknown_specimen_one_named_twice_and_a_strength_of_zero_are_refused()
    {
        ImportPreview preview = StudyImport.Preview(Studies.Two(1),
            [new ImportRow(2, "A-01", null, "", 38), new ImportRow(3, "A-01", null, "", 39), new ImportRow(4, "Z", null, "", 40),
                new ImportRow(5, "B-01", null, "", 0)], "old.csv", Studies.Start);
        Assert.False(preview.CanBeApplied);
        Assert.Equal(3, preview.Findings.Count(f => f.Refused));
    }
}
