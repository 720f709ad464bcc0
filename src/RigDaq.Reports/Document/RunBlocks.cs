using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Runs;
using RigDaq.Core.Uncertainty;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;
using RigDaq.Text;

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

        Dictionary<string, Core.Groups.SpecimenStrength> strengths =
            model.Answer.Strengths.GroupBy(strength => strength.RunId).ToDictionary(group => group.Key, group => group.Last());
        yield return new Table(
            ReportText.RunsCaption(model.Runs.Count, model.AllRecorded),
            [
                new(ReportText.SpecimenColumn), new(ReportText.GroupColumn), new(ReportText.PulledColumn), new(ReportText.EndingColumn),
                    new(ReportText.FractureColumn),
                new(ReportText.PeakColumn(model.Units), true), new(ReportText.SectionColumn(model.Units), true),
                    new(ReportText.StrengthColumn(model.Units), true),
                new(ReportText.UncertaintyColumn(model.Units), true), new(ReportText.RemarksColumn),
            ],
            [.. model.Runs.Select(run => Row(model, run, strengths.GetValueOrDefault(run.Head.RunId)))],
            ReportText.RunsNote);
    }

    private static string[] Row(StudyReportModel model, Run run, Core.Groups.SpecimenStrength? strength)
    {
        double? uncertainty = run.Strength is { } result ? 2 * result.StandardUncertaintyMegapascals : null;
        Units units = model.Units;
        int decimals = units.Stress.Decimals(uncertainty, 1);
        return
        [
            run.Head.SpecimenId,
            model.GroupOf(run.Head.SpecimenId)?.Describe(model.Study.SettingUnit) ?? ReportText.None,
            run.Head.Recording is null ? ReportText.ShortMoment(run.Head.StartedAt) : ReportText.None,
            run.Ending.Spoken(),
            ReportText.FractureWords(run),
            ReportText.Or(units.Force.Of(run.Reading?.PeakForceNewtons),
                units.Force.Decimals(PeakForceUncertainty.ExpandedNewtons(run), 1)),
            ReportText.Or(units.Area.Of(run.Strength?.AreaSquareMillimetres),
                units.Area.Decimals(2 * run.Strength?.AreaStandardUncertaintySquareMillimetres, 2)),
            ReportText.Or(units.Stress.Of(strength?.Megapascals ?? run.Strength?.Megapascals), decimals),
            ReportText.Or(units.Stress.Of(uncertainty), decimals),
            Remarks(run, units),
        ];
    }

    private static string Remarks(Run run, Units units)
    {
        var remarks = new List<string>();
        if (run.Void is { } left) remarks.Add(ReportText.LeftOut(left));
        if (run.Strength is { Extrapolated: true }) remarks.Add(ReportText.ExtrapolatedShort);
        if (!run.Reason.IsEmpty) remarks.Add(run.Reason.In(units));
        if (run.Revision > 0) remarks.Add(ReportText.Revised(run));
        remarks.AddRange(run.Warnings.In(units));
        return string.Join("; ", remarks.Distinct());
    }
}
