using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;
using RigDaq.Core.Trace;
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
            (ReportText.Groups, ReportText.GroupsInWords(study)),
            (ReportText.Plan, ReportText.PlanWords(study)),
            (ReportText.OrderOfBreaking, ReportText.OrderInWords(study)),
            (ReportText.SectionFact, ReportText.SectionBasisWords(study)),
        };
        string[] sections = [.. model.Runs.Select(run => run.Strength?.SectionBasis).OfType<string>().Distinct()];
        if (sections.Length > 0) facts.Add((ReportText.SectionOfRuns, string.Join("; ", sections)));
        // How a recording of others was pulled is not known.
        PullSettings[] settings = [.. model.Runs.Where(run => run.Head.Recording is null).Select(run => run.Head.Settings).Distinct()];
        if (settings.Length > 0)
        {
            facts.Add((ReportText.CrossheadSpeed, ReportText.Values(settings.Select(s => s.SpeedMillimetresPerSecond), model.Units.Speed)));
            facts.Add((ReportText.Preload, ReportText.Values(settings.Select(s => s.PreloadNewtons), model.Units.Force)));
        }

        if (model.Runs.Count > 0)
            facts.Add((ReportText.BreakIs, ReportText.BreakInWords([.. model.Runs.Select(run => run.Head.Settings).Distinct()])));
        int recorded = model.Runs.Count(run => run.Head.Recording is not null);
        if (recorded > 0) facts.Add((ReportText.Recorded, ReportText.RecordedWords(recorded, model.Runs.Count)));

        double[] rates = [.. model.Runs.Select(run => run.Reading?.SampleRateHertz).OfType<double>()];
        if (rates.Length > 0) facts.Add((ReportText.Samples, ReportText.RatesInWords(rates)));
        double[] underReads = [.. model.Runs.Select(UnderReadPercent).OfType<double>()];
        if (underReads.Length > 0) facts.Add((ReportText.BetweenSamples, ReportText.UnderReadInWords(underReads.Max())));
        if (ReportText.ComplianceInWords(model.Runs.Select(run => run.Reading).OfType<TraceReading>(), model.Units) is { } give) facts
            .Add((ReportText.MachinesGive, give));
        double[] shares = [.. model.Runs.Select(run => run.Strength).OfType<StrengthResult>().Where(s => s.Megapascals > 0)
            .Select(s => 100 * 2 * s.StandardUncertaintyMegapascals / s.Megapascals)];
        if (shares.Length > 0) facts.Add((ReportText.UncertaintyOfOne, ReportText.StrengthUncertaintyInWords(shares.Max())));
        if (study.Imported.Count > 0) facts.Add((ReportText.Imported, ReportText.ImportedWords(study.Imported.Count)));
        foreach (EarlierResult earlier in study.Earlier) facts.Add((ReportText.EarlierStudies, ReportText.EarlierWords(earlier)));
        if (study.Control is { } control) facts.Add((ReportText.ControlFact, control.Describe(study.SettingUnit)));
        if (ReportText.ShownInUnits(model.Units) is { } units) facts.Add((ReportText.UnitsFact, units));
        yield return new Facts(facts);
        foreach (Block block in PrintBlocks.Of(model)) yield return block;
        string[] findings = [.. RecordRules.Check(study).Select(finding => finding.Text)];
        if (findings.Length > 0) yield return new Bullets(findings);
        yield return new Bullets(ReportText.HowComputed(model));
    }

    private static double? UnderReadPercent(Run run) =>
        run.Reading is { UnderReadNewtons: { } under, PeakForceNewtons: > 0 and { } peak } ? 100 * under / peak : null;
}
