using RigDaq.Core.Calibration;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;

namespace RigDaq.Reports.Document;

/// <summary>Which calibrations the forces rest on, and how good they are.</summary>
internal static class CalibrationBlocks
{
    public static IEnumerable<Block> Of(StudyReportModel model)
    {
        if (model.Calibrations.Count == 0)
        {
            yield return new Paragraph(ReportText.NoCalibration, ParagraphKind.Caution);
            yield break;
        }

        foreach (CalibrationRecord calibration in model.Calibrations)
        {
            yield return new Facts(
            [
                ("calibration", calibration.Id),
                ("accepted", ReportText.Moment(calibration.AcceptedAt)),
                ("valid until", ReportText.Moment(calibration.ValidUntil)),
                ("greatest reference force", $"{ReportText.Number(calibration.GreatestReferenceNewtons, 1)} N"),
            ]);
        }

        if (model.Calibrations.Count > 1) yield return new Paragraph(ReportText.SeveralCalibrations, ParagraphKind.Caution);
        yield return new Paragraph(ReportText.OwnCheck);
    }
}
