using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;

namespace RigDaq.Reports.Document;

/// <summary>How it was measured and computed, in words.</summary>
internal static class MethodBlocks
{
    public static IEnumerable<Block> Of(StudyReportModel model)
    {
        Study study = model.Study;
        var facts = new List<(string, string)>
        {
            ("groups", ReportText.GroupsInWords(study)),
            ("plan", ReportText.PlanWords(study)),
            ("order of breaking", ReportText.OrderInWords(study)),
            ("section", ReportText.SectionBasisWords(study)),
        };
        string[] sections = [.. model.Runs.Select(run => run.Strength?.SectionBasis).OfType<string>().Distinct()];
        if (sections.Length > 0) facts.Add(("section of the runs", string.Join("; ", sections)));
        PullSettings[] settings = [.. model.Runs.Select(run => run.Head.Settings).Distinct()];
        if (settings.Length > 0)
        {
            facts.Add(("crosshead speed", Join(settings.Select(s => s.SpeedMillimetresPerSecond), "mm/s")));
            facts.Add(("preload", Join(settings.Select(s => s.PreloadNewtons), "N")));
            facts.Add(("a break is", ReportText.BreakInWords(settings)));
        }

        double[] rates = [.. model.Runs.Select(run => run.Reading?.SampleRateHertz).OfType<double>()];
        if (rates.Length > 0) facts.Add(("samples", ReportText.RatesInWords(rates)));
        double[] underReads = [.. model.Runs.Select(UnderReadPercent).OfType<double>()];
        if (underReads.Length > 0) facts.Add(("between two samples", ReportText.UnderReadInWords(underReads.Max())));
        double[] shares = [.. model.Runs.Select(run => run.Strength).OfType<StrengthResult>().Where(s => s.Megapascals > 0)
            .Select(s => 100 * 2 * s.StandardUncertaintyMegapascals / s.Megapascals)];
        if (shares.Length > 0) facts.Add(("uncertainty of one strength", ReportText.StrengthUncertaintyInWords(shares.Max())));
        if (study.Imported.Count > 0) facts.Add(("imported", ReportText.ImportedWords(study.Imported.Count)));
        yield return new Facts(facts);
        foreach (Block block in PrintBlocks.Of(model)) yield return block;
        yield return new Bullets(ReportText.HowComputed(model));
    }

    private static double? UnderReadPercent(Run run) =>
        run.Reading is { UnderReadNewtons: { } under, PeakForceNewtons: > 0 and { } peak } ? 100 * under / peak : null;

    private static string Join(IEnumerable<double> values, string unit) =>
        string.Join(", ", values.Distinct().Order().Select(value => ReportText.Number(value))) + " " + unit;
}
