using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.Watching;
using RigDaq.Core.Quantities;
using RigDaq.Core.Runs;
using RigDaq.Core.Uncertainty;
using RigDaq.Reports.Model;
using RigDaq.Reports.Pictures;
using RigDaq.Reports.Text;
using RigDaq.Text;

namespace RigDaq.Reports.Document;

/// <summary>Which calibrations the forces rest on, and how good they are.</summary>
internal static class CalibrationBlocks
{
    public static IEnumerable<Block> Of(StudyReportModel model)
    {
        int recorded = model.Runs.Count(run => run.Head.Recording is not null);
        if (recorded > 0) yield return new Paragraph(ReportText.RecordedRuns(recorded, model.Runs.Count), ParagraphKind.Caution);
        if (recorded > 0 && recorded == model.Runs.Count) yield break;
        yield return new Paragraph(ReportText.OwnCheck);
        if (model.Calibrations.Count == 0)
        {
            yield return new Paragraph(ReportText.NoCalibration, ParagraphKind.Caution);
            yield break;
        }

        if (model.Calibrations.Count > 1) yield return new Paragraph(ReportText.SeveralCalibrations, ParagraphKind.Caution);
        foreach (CalibrationRecord calibration in model.Calibrations)
        {
            yield return new Facts(FactsOf(model, calibration));
            if (ResidualPicture.Of(calibration, model.Units, model.Simulated) is { } residuals) yield return new Figure(residuals);
            if (calibration.Figures is { Steps.Count: > 0 } figures)
            {
                yield return Steps(figures, model.Units);
                if (figures.Warnings.Count > 0) yield return new Bullets(figures.Warnings.In(model.Units));
            }

            if (!model.CheckWeights.TryGetValue(calibration.Id, out CheckWeight? checkWeight)) continue;
            yield return new Paragraph(checkWeight.Sentence.In(model.Units));
            if (ControlPicture.Of(calibration.Id, checkWeight, model.Units, model.Simulated) is { } chart) yield return new Figure(chart);
        }
    }

    private static List<(string, string)> FactsOf(StudyReportModel model, CalibrationRecord calibration)
    {
        var facts = new List<(string, string)>
        {
            (ReportText.CalibrationFact, calibration.Id),
            (ReportText.Accepted, calibration.By is { Name.Length: > 0 } by
                ? ReportText.AcceptedBy(ReportText.Moment(calibration.AcceptedAt), by.Name) : ReportText.Moment(calibration.AcceptedAt)),
            (ReportText.ValidUntil, ReportText.Moment(calibration.ValidUntil)),
            (ReportText.ClassFact, calibration.Figures?.Class is { } reached ? ReportText.ClassWords(reached, model.Units)
                : ReportText.NoClass),
        };
        if (Expanded(calibration) is { } worst) facts
            .Add((ReportText.ExpandedUncertainty, ReportText.ExpandedWords(worst.Least, worst.Greatest)));
        facts.Add((ReportText.GreatestReference, model.Units.Force.Text(calibration.GreatestReferenceNewtons, 1)));
        Run? strongest = model.Runs.Where(run => run.Head.CalibrationId == calibration.Id).MaxBy(run => run.Reading?.PeakForceNewtons);
        if (strongest?.Reading?.PeakForceNewtons is { } greatest)
            facts.Add((ReportText.GreatestForce, ReportText.GreatestForceWords(greatest, PeakForceUncertainty.ExpandedNewtons(strongest),
                calibration.GreatestReferenceNewtons, model.Units)));
        facts.Add((ReportText.CurveFact, ReportText.CurveWords(calibration)));
        if (calibration.Circumstances is not { } circumstances) return facts;
        Add(facts, ReportText.LoadCell, circumstances.Cell);
        Add(facts, ReportText.By, circumstances.Person);
        Add(facts, ReportText.At, circumstances.Place);
        if (circumstances.Weights.Count > 0)
            facts.Add((ReportText.WeightsFact, string.Join(", ", circumstances.Weights.Select(ReportText.WeightWords))));
        if (circumstances.TemperatureCelsius is { } temperature) facts.Add((ReportText.Room, ReportText.Degrees(temperature, 1)));
        Add(facts, ReportText.Remarks, circumstances.Remarks);
        return facts;
    }

    private static Table Steps(CalibrationFigures figures, Units units) => new(
        ReportText.StepsCaption,
        [
            new(ReportText.ReferenceForceColumn(units), true), new(ReportText.ErrorColumn, true), new(ReportText.RepeatabilityColumn, true),
            new(ReportText.ReversibilityColumn, true), new(ReportText.ResolutionColumn, true), new(ReportText.ExpandedColumn, true),
        ],
        [.. figures.Steps.Select(step => (IReadOnlyList<string>)
        [
            units.Force.Figure(step.ReferenceNewtons, 2),
            ReportText.Or(step.IndicationErrorPercent, Decimals(step)),
            ReportText.Or(step.RepeatabilityPercent, Decimals(step)),
            ReportText.Or(step.ReversibilityPercent, Decimals(step)),
            ReportText.Or(step.ResolutionPercent, Decimals(step)),
            ReportText.Or(step.ExpandedUncertaintyPercent, Decimals(step)),
        ])],
        ReportText.StepsNote);

    // Two digits of the step's own uncertainty.
    private static int Decimals(StepFigures step) => step.ExpandedUncertaintyPercent is { } expanded ? NumberText.TwoDigits(expanded) : 2;

    private static (double Least, double Greatest)? Expanded(CalibrationRecord calibration)
    {
        CalibrationClass? reached = calibration.Figures?.Class;
        double[] shares = [.. (calibration.Figures?.Steps ?? [])
            .Where(step => reached is null || (step.ReferenceNewtons >= reached.FromNewtons && step.ReferenceNewtons <= reached.ToNewtons))
            .Select(step => step.ExpandedUncertaintyPercent).OfType<double>()];
        return shares.Length == 0 ? null : (shares.Min(), shares.Max());
    }

    private static void Add(List<(string, string)> facts, string name, string value)
    {
        if (value.Length > 0) facts.Add((name, value));
    }
}
