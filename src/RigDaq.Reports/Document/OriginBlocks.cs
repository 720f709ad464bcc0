using RigDaq.Core.Quantities;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;
using RigDaq.Core.Uncertainty;
using RigDaq.Reports.Model;
using RigDaq.Reports.Pictures;
using RigDaq.Reports.Text;

namespace RigDaq.Reports.Document;

/// <summary>The budget of one strength, end to end: in full of the run whose strength is the middle one of the study, and in a line of the
/// middle run of each group.</summary>
internal static class OriginBlocks
{
    public static IEnumerable<Block> Of(StudyReportModel model)
    {
        if (TypicalOrigins.Of(model, model.Runs) is not { } typical) yield break;
        (Run run, UncertaintyOrigins origins) = typical;
        StrengthResult strength = run.Strength!;
        double expanded = strength.Megapascals * origins.ExpandedPercent / 100;
        yield return new Heading(ReportText.OriginsHeading);
        yield return new Paragraph(ReportText.OriginsOfRun(run.Head.SpecimenId, model.Units.Stress.Text(strength.Megapascals, expanded, 1),
            model.Units.Stress.Text(expanded, expanded, 2), origins.ExpandedPercent));
        if (strength.Bench is null && run.Head.Recording is null) yield return new Paragraph(ReportText.OriginsOfBefore,
            ParagraphKind.Note);
        yield return new Figure(OriginsPicture.Of(origins, StudyPictures.Caveats(model)));
        yield return new Table(ReportText.OriginsCaption,
            [
                new(ReportText.OriginColumn), new(ReportText.OriginNameColumn), new(ReportText.OriginStandardColumn, true),
                new(ReportText.OriginShareColumn, true), new(ReportText.OriginAssumedColumn),
            ],
            [.. origins.Origins.Select(Row)], ReportText.OriginsTableNote);
        if (origins.Gains.Count > 0)
        {
            yield return new Paragraph(ReportText.OriginsGainsLead);
            yield return
                new Bullets([.. origins.Gains.Select(gain => ReportText.OriginGain(gain.Advice.In(model.Units), gain.ExpandedPercent))]);
        }

        if (Groups(model) is { } groups) yield return groups;
    }

    /// <summary>The same for the middle run of each group, by where on the way it comes in; null where there are not two groups.</summary>
    private static Table? Groups(StudyReportModel model)
    {
        IReadOnlyDictionary<string, GroupKey> groupOf = model.Study.GroupOfSpecimens();
        ILookup<GroupKey?, Run> runs = model.Runs.ToLookup(run => groupOf.GetValueOrDefault(run.Head.SpecimenId));
        (GroupKey Group, UncertaintyOrigins Origins)[] groups =
        [
            .. model.Study.Groups().Select(group => (group, Found: TypicalOrigins.Of(model, runs[group])))
                .Where(pair => pair.Found is not null).Select(pair => (pair.group, pair.Found!.Origins)),
        ];
        return groups.Length < 2 ? null : new Table(
            ReportText.OriginsGroupsCaption,
            [
                new(ReportText.GroupColumn), new(ReportText.OriginsExpandedColumn, true),
                .. Enum.GetValues<UncertaintyStage>().Select(stage => new Column(ReportText.StageShare(stage), true)),
                    new(ReportText.OriginsGainColumn),
            ],
            [.. groups.Select(group => Row(model, group.Group, group.Origins))], ReportText.OriginsGroupsNote);
    }

    private static string[] Row(StudyReportModel model, GroupKey group, UncertaintyOrigins origins) =>
    [
        group.Describe(model.Study.SettingUnit),
        NumberText.Significant(origins.ExpandedPercent, 2),
        .. Enum.GetValues<UncertaintyStage>()
            .Select(stage => ReportText.Number(origins.Origins.Where(origin => origin.Stage == stage).Sum(origin => origin.SharePercent),
                0)),
        origins.Gains.Count == 0 ? ""
            : ReportText.OriginGain(origins.Gains[0].Advice.In(model.Units), origins.Gains[0].ExpandedPercent),
    ];

    private static string[] Row(UncertaintyOrigin origin) =>
    [
        ReportText.Stage(origin.Stage), origin.Name, ReportText.Number(origin.StandardPercent, DecimalsOfStandard),
            ReportText.Number(origin.SharePercent, 1),
        origin.IsAssumed ? ReportText.OriginIsAssumed : "",
    ];

    private const int DecimalsOfStandard = 3;
}
