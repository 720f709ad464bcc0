using RigDaq.Core.Calibration;
using RigDaq.Core.Pulls;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;
using RigDaq.Core.Text;
using RigDaq.Core.Trace;
using RigDaq.Text;

namespace RigDaq.Core.Runs;

/// <summary>From a raw pull, a study and a calibration to a run. Pure: the same three give the same run, today and under another
/// calibration or section tomorrow.</summary>
public static class RunCalculation
{
    /// <summary>Calculates a run's first version.</summary>
    /// <param name="pull">The pull as the rig recorded it.</param>
    /// <param name="study">The study that it belongs to; null where it is not known any more.</param>
    /// <param name="calibration">The calibration in force; null where it is not known any more.</param>
    /// <param name="now">When this revision is made; for a first version the pull's end, so that the same pull gives the same run whenever
    /// it is stored.</param>
    /// <param name="compliance">The machine's give, taken off where positions are known; null where it was not measured.</param>
    public static Run Calculate(PullRecord pull, Study? study, CalibrationRecord? calibration, DateTimeOffset now,
        MachineCompliance? compliance = null)
    {
        var warnings = new List<Sentence>();
        if (pull.Head.Recording is { } recording) warnings.Add(CoreText.RecordedElsewhere(recording.File, recording.Curve));
        PullReading? read = null;
        if (calibration is null) warnings.Add(CoreText.CalibrationUnknown(pull.Head.CalibrationId));
        else if (pull.Trace.Samples.Count == 0) warnings.Add(CoreText.NoSampleKept);
        else read = PullAnalysis.Read(pull, calibration.Curve, calibration.GreatestReferenceNewtons, compliance);

        TraceReading? reading = read?.Reading;
        if (reading is not null)
        {
            warnings.AddRange(reading.Warnings);
            if (pull.Head.Recording is not null)
            {
                if (reading.Ending != pull.Ending) warnings.Add(CoreText.KeptAs(pull.Ending.Spoken(), reading.Ending.Spoken()));
            }
            else if (IsBreak(pull.Ending) && reading.Ending != pull.Ending)
                warnings.Add(CoreText.LookedOtherwise(pull.Ending.Spoken(), reading.Ending.Spoken()));
        }

        StrengthResult? strength = null;
        if (IsBreak(pull.Ending))
        {
            SectionForStrength? section = Section(study, pull.Head, warnings);
            strength = StrengthCalculation.Calculate(pull.Ending, reading, section, Uncertainty(pull.Head, calibration, reading, warnings),
                pull.Head.Bench);
        }

        return new Run
        {
            Head = pull.Head,
            Ending = pull.Ending,
            Reason = pull.Reason,
            EndedAt = pull.EndedAt,
            FirstSampleAt = pull.FirstSampleAt,
            Reading = reading,
            Strength = strength,
            ZeroShiftNewtons = read?.ZeroShiftNewtons,
            RevisedAt = now,
            Warnings = [.. warnings.Distinct()],
        };
    }

    private static bool IsBreak(PullEnding ending) => ending is PullEnding.Broken or PullEnding.PartlyBroken;

    private static SectionForStrength? Section(Study? study, PullHead head, List<Sentence> warnings)
    {
        if (study is null)
        {
            warnings.Add(CoreText.StudyUnknown(head.StudyId));
            return null;
        }

        SectionOutcome outcome = SectionCalculation.ForSpecimen(study, head.SpecimenId);
        if (outcome.Section is not { } section)
        {
            warnings.Add(outcome.Problem);
            return null;
        }

        warnings.AddRange(section.Warnings);
        return new SectionForStrength(section.AreaSquareMillimetres, section.StandardUncertaintySquareMillimetres, section.Source)
        {
            CaliperSlopeMillimetres = section.CaliperSlopeMillimetres,
            CaliperErrorMillimetres = section.CaliperErrorMillimetres,
        };
    }

    private static ForceForStrength Uncertainty(PullHead head, CalibrationRecord? calibration, TraceReading? reading,
        List<Sentence> warnings)
    {
        if (calibration is null || reading?.PeakForceNewtons is not { } peak || !(peak > 0)) return
            new ForceForStrength(0, calibration?.GreatestReferenceNewtons);
        var budget = calibration.UncertaintyAt(peak);
        if (budget?.CalibrationStandardNewtons is { } standard)
        {
            if (budget.ReachNote is { } beyond) warnings.Add(beyond);
            return new ForceForStrength(standard, calibration.GreatestReferenceNewtons);
        }

        if (calibration.GreatestReferenceNewtons <= 0)
        {
            // No reference stands behind a file's forces that they could lie far beyond.
            if (head.Recording is not null) return new ForceForStrength(0, null);
            warnings.Add(CoreText.ForcesOfDevice);
            return new ForceForStrength(0, calibration.GreatestReferenceNewtons);
        }

        warnings.Add(CoreText.CalibrationWithoutUncertainty);
        return new ForceForStrength(0, calibration.GreatestReferenceNewtons);
    }
}
