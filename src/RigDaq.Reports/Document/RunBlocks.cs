using RigDaq.Core.Strength;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;

namespace RigDaq.Reports.Document;

/// <summary>Every run with its ending, and why some are left out.</summary>
internal static class RunBlocks
{
    public static IEnumerable<Block> Of(StudyReportModel model)
    {
        if (model.Runs.Count == 0)
        {
            yield return new Paragraph(ReportText.NoRuns);
            yield break;
        }

        Dictionary<string, Core.Statistics.SpecimenStrength> strengths = model.Answer.Strengths
            .GroupBy(strength => strength.RunId).ToDictionary(group => group.Key, group => group.Last());
        yield return new Table(
            ReportText.RunsCaption(model.Runs.Count),
            [
                new("specimen"), new("group"), new("pulled"), new("ending"), new("peak force, N", true), new("section, mm²", true),
                new("strength, MPa", true), new("± (k\u00a0=\u00a02), MPa", true), new("remarks"),
            ],
            [.. model.Runs.Select(run => Row(model, run, strengths.GetValueOrDefault(run.Head.RunId)))],
            ReportText.RunsNote);
    }

    private static string[] Row(StudyReportModel model, Run run, Core.Statistics.SpecimenStrength? strength)
    {
        double? uncertainty = run.Strength is { } result ? 2 * result.StandardUncertaintyMegapascals : null;
        int decimals = uncertainty is { } u ? Core.Statistics.NumberText.Decimals(u) : 1;
        return
        [
            run.Head.SpecimenId,
            model.GroupOf(run.Head.SpecimenId)?.Describe(model.Study.SettingUnit) ?? ReportText.None,
            ReportText.ShortMoment(run.Head.StartedAt),
            run.Ending.Word(),
            ReportText.Or(run.Reading?.PeakForceNewtons, 1),
            ReportText.Or(run.Strength?.AreaSquareMillimetres, 2),
            ReportText.Or(strength?.Megapascals ?? run.Strength?.Megapascals, decimals),
            ReportText.Or(uncertainty, decimals),
            Remarks(run),
        ];
    }

    private static string Remarks(Run run)
    {
        var remarks = new List<string>();
        if (run.Void is { } left) remarks.Add(ReportText.LeftOut(left));
        if (run.Strength is { Extrapolated: true }) remarks.Add(ReportText.ExtrapolatedShort);
        if (run.Reason.Length > 0) remarks.Add(run.Reason);
        if (run.Revision > 0) remarks.Add(ReportText.Revised(run));
        remarks.AddRange(run.Warnings);
        return string.Join("; ", remarks.Distinct());
    }
}
