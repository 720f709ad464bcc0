using RigDaq.Core.Calibration;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Uncertainty;

namespace RigDaq.Reports.Model;

/// <summary>The run with the middle strength of several, and where the uncertainty of that strength comes from.</summary>
/// <param name="Run">The run.</param>
/// <param name="Origins">One or more.</param>
internal sealed record TypicalOrigins(Run Run, UncertaintyOrigins Origins)
{
    /// <summary>Finds it; null where no run has a strength, or where nothing is known of its uncertainty.</summary>
    public static TypicalOrigins? Of(StudyReportModel model, IEnumerable<Run> among)
    {
        Run[] runs = [.. among.Where(run => run.Void is null && run.Strength is not null && run.Reading?.PeakForceNewtons is not null)
            .OrderBy(run => run.Strength!.Megapascals).ThenBy(run => run.Head.RunId, StringComparer.Ordinal)];
        if (runs.Length == 0) return null;
        Run middle = runs[runs.Length / 2];
        CalibrationRecord? calibration = model.Calibrations.FirstOrDefault(calibration => calibration.Id == middle.Head.CalibrationId);
        Section? section = SectionCalculation.ForSpecimen(model.Study, middle.Head.SpecimenId).Section;
        return UncertaintyOrigins.OfRun(middle, calibration?.Uncertainty, section) is { Origins.Count: > 0 } origins
            ? new TypicalOrigins(middle, origins) : null;
    }
}
