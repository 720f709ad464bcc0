using RigDaq.Core.Specimens;
using RigDaq.Reports.Labels;
using UglyToad.PdfPig;

namespace RigDaq.Reports.Tests.Labels;

public class LabelSheetTest
{
    [Fact]
    public void Every_specimen_has_a_label_with_its_group_and_place_read_back_by_another_library()
    {
        Study study = new StudyPlan
        {
            Id = "fan",
            Name = "Fan",
            Materials = [new MaterialRecord("Alder", "PLA")],
            Conditions = ["fan on", "fan off"],
            Settings = [210],
            SettingUnit = "°C",
            SpecimensPerStretch = 25,
            Seed = 1,
        }.Make(DateTimeOffset.UnixEpoch);
        using PdfDocument document = PdfDocument.Open(LabelSheet.Pdf(study));
        Assert.Equal(2, document.NumberOfPages);
        string text = string.Join(" ", document.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
        Assert.All(study.Specimens, s => Assert.Contains(s.Id, text, StringComparison.Ordinal));
        Assert.Contains("210 °C", text, StringComparison.Ordinal);
        using PdfDocument blind = PdfDocument.Open(LabelSheet.Pdf(study, blind: true));
        Assert.DoesNotContain("Alder", blind.GetPage(1).Text, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => LabelSheet.Pdf(study with { Specimens = [] }));
    }
}
