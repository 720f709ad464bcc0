using RigDaq.Core.Calibration;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;
using RigDaq.Reports.Model;
using RigDaq.Reports.Pictures;
using RigDaq.Reports.Text;

namespace RigDaq.Reports.Document;

/// <summary>The budget of one strength, end to end, once for the study: of the run whose strength is the middle one.</summary>
internal static class OriginBlocks
{
    public static IEnumerable<Block> Of(StudyReportModel model)
    {
        if (Typical(model) is not { } typical) yield break;
        (Run run, UncertaintyOrigins origins) = typical;
        StrengthResult strength = run.Strength!;
        double expanded = strength.Megapascals * origins.ExpandedPercent / 100;
        yield return new Heading(ReportText.OriginsHeading);
        yield return new Paragraph(ReportText.OriginsOfRun(run.Head.SpecimenId, model.Units.Stress.Text(strength.Megapascals, expanded, 1),
            model.Units.Stress.Text(expanded, expanded, 2), origins.ExpandedPercent));
        if (strength.Bench is null && run.Head.Recording is null) yield return new Paragraph(ReportText.OriginsOfBefore, ParagraphKind.Note);
        yield return new Figure(OriginsPicture.Of(origins, StudyPictures.Caveats(model)));
        yield return new Table(ReportText.OriginsCaption,
            [
                new(ReportText.OriginColumn), new(ReportText.OriginNameColumn), new(ReportText.OriginStandardColumn, true),
                new(ReportText.OriginShareColumn, true), new(ReportText.OriginAssumedColumn),
            ],
            [.. origins.Origins.Select(Row)], ReportText.OriginsTableNote);
        if (origins.Gains.Count == 0) yield break;
        yield return new Paragraph(ReportText.OriginsGainsLead);
        yield return new Bullets([.. origins.Gains.Select(gain => ReportText.OriginGain(UnitWords.In(gain.Advice, model.Units), gain.ExpandedPercent))]);
    }

    /// <summary>The picture alone; null where no run has a strength.</summary>
    public static Picture? PictureOf(StudyReportModel model) => Typical(model) is var (_, origins) ? OriginsPicture.Of(origins, StudyPictures.Caveats(model)) : null;

    private static (Run Run, UncertaintyOrigins Origins)? Typical(StudyReportModel model)
    {
        Run[] runs = [.. model.Runs.Where(run => run.Void is null && run.Strength is not null && run.Reading?.PeakForceNewtons is not null)
            .OrderBy(run => run.Strength!.Megapascals).ThenBy(run => run.Head.RunId, StringComparer.Ordinal)];
        if (runs.Length == 0) return null;
        Run middle = runs[runs.Length / 2];
        CalibrationRecord? calibration = model.Calibrations.FirstOrDefault(known => known.Id == middle.Head.CalibrationId);
        Section? section = SectionCalculation.ForSpecimen(model.Study, middle.Head.SpecimenId).Section;
        return UncertaintyOrigins.OfRun(middle, calibration?.Uncertainty, section) is { Origins.Count: > 0 } origins ? (middle, origins) : null;
    }

    private static string[] Row(UncertaintyOrigin origin) =>
    [
        ReportText.Stage(origin.Stage), origin.Name, ReportText.Number(origin.StandardPercent, DecimalsOfStandard), ReportText.Number(origin.SharePercent, 1),
        origin.IsAssumed ? ReportText.OriginIsAssumed : "",
    ];

    private const int DecimalsOfStandard = 3;
}
