using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;
using RigDaq.Core.Calibration.Watching;
using RigDaq.Reports.Model;
using RigDaq.Reports.Pictures;
using RigDaq.Reports.Text;

namespace RigDaq.Reports.Document;

/// <summary>Which calibrations the forces rest on, and how good they are.</summary>
internal static class CalibrationBlocks
{
    public static IEnumerable<Block> Of(StudyReportModel model)
    {
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
            if (ResidualPicture.Of(calibration) is { } residuals) yield return new Figure(residuals);
            if (calibration.Figures is { Steps.Count: > 0 } figures)
            {
                yield return Steps(figures);
                if (figures.Warnings.Count > 0) yield return new Bullets(figures.Warnings);
            }

            if (!model.CheckWeights.TryGetValue(calibration.Id, out CheckWeight? checkWeight)) continue;
            yield return new Paragraph(checkWeight.Sentence);
            if (ControlPicture.Of(calibration.Id, checkWeight) is { } chart) yield return new Figure(chart);
        }
    }

    private static List<(string, string)> FactsOf(StudyReportModel model, CalibrationRecord calibration)
    {
        var facts = new List<(string, string)>
        {
            ("calibration", calibration.Id),
            ("accepted", ReportText.Moment(calibration.AcceptedAt)),
            ("valid until", ReportText.Moment(calibration.ValidUntil)),
            ("class", calibration.Figures?.Class is { } given ? ReportText.ClassWords(given) : ReportText.NoClass),
        };
        if (Expanded(calibration) is { } worst) facts.Add(("expanded uncertainty", ReportText.ExpandedWords(worst.Least, worst.Greatest)));
        facts.Add(("greatest reference force", $"{ReportText.Number(calibration.GreatestReferenceNewtons, 1)} N"));
        double? peak = model.Runs.Where(run => run.Head.CalibrationId == calibration.Id).Max(run => run.Reading?.PeakForceNewtons);
        if (peak is { } greatest) facts.Add(("greatest force of the runs", ReportText.GreatestForceWords(greatest, calibration.GreatestReferenceNewtons)));
        facts.Add(("curve", ReportText.CurveWords(calibration)));
        if (calibration.Circumstances is not { } circumstances) return facts;
        Add(facts, "load cell", circumstances.Cell);
        Add(facts, "by", circumstances.Person);
        Add(facts, "at", circumstances.Place);
        if (circumstances.Weights.Count > 0) facts.Add(("weights", string.Join(", ", circumstances.Weights.Select(WeightWords))));
        if (circumstances.TemperatureCelsius is { } temperature) facts.Add(("room", $"{ReportText.Number(temperature, 1)} °C"));
        Add(facts, "remarks", circumstances.Remarks);
        return facts;
    }

    private static Table Steps(CalibrationFigures figures) => new(
        ReportText.StepsCaption,
        [
            new("reference, N", true), new("error, %", true), new("repeatability, %", true), new("reversibility, %", true),
            new("resolution, %", true), new("expanded uncertainty, %", true),
        ],
        [.. figures.Steps.Select(step => (IReadOnlyList<string>)
        [
            ReportText.Number(step.ReferenceNewtons, 2),
            ReportText.Or(step.IndicationErrorPercent, 2),
            ReportText.Or(step.RepeatabilityPercent, 2),
            ReportText.Or(step.ReversibilityPercent, 2),
            ReportText.Or(step.ResolutionPercent, 3),
            ReportText.Or(step.ExpandedUncertaintyPercent, 2),
        ])],
        ReportText.StepsNote);

    private static (double Least, double Greatest)? Expanded(CalibrationRecord calibration)
    {
        CalibrationClass? given = calibration.Figures?.Class;
        double[] shares = [.. (calibration.Figures?.Steps ?? [])
            .Where(step => given is null || (step.ReferenceNewtons >= given.FromNewtons && step.ReferenceNewtons <= given.ToNewtons))
            .Select(step => step.ExpandedUncertaintyPercent).OfType<double>()];
        return shares.Length == 0 ? null : (shares.Min(), shares.Max());
    }

    private static string WeightWords(Weight weight) => $"{weight.Name} ({ReportText.Number(weight.MassKilograms)} kg)";

    private static void Add(List<(string, string)> facts, string name, string value)
    {
        if (value.Length > 0) facts.Add((name, value));
    }
}
