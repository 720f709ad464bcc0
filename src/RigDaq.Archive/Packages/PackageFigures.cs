using RigDaq.Archive.Text;
using RigDaq.Core.Calibration;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Compliance;
using RigDaq.Core.Runs;

namespace RigDaq.Archive.Packages;

/// <summary>
/// Whether a package's strengths follow from its own raw samples, sections and calibrations: each run is computed again from them. Who
/// imports a study takes its figures over; what does not follow is said, and kept as it came.
/// </summary>
internal static class PackageFigures
{
    /// <summary>Another version of the program may read a peak a little otherwise.</summary>
    internal const double ToleranceShare = 0.005;

    private const int RemarksMax = 20;

    /// <exception cref="InvalidDataException">The figures cannot be computed at all.</exception>
    public static IReadOnlyList<string> Remarks(PackageLook look)
    {
        string[] remarks;
        try
        {
            remarks = [.. look.Runs.Select(run => Remark(look, run)).OfType<string>()];
            StudyComparison.Of(look.Study, [.. look.Runs.Select(run => run.Revisions[^1])]);
        }
        catch (Exception e) when (e is not OutOfMemoryException)
        {
            throw new InvalidDataException(ArchiveText.ImportNotComputed(e.Message), e);
        }

        return remarks.Length <= RemarksMax ? remarks
            : [.. remarks.Take(RemarksMax), ArchiveText.ImportMoreRemarks(remarks.Length - RemarksMax)];
    }

    private static string? Remark(PackageLook look, PackageRun run)
    {
        Run latest = run.Revisions[^1];
        double? said = latest.Strength?.Megapascals;
        if (run.WholePull() is not { } pull || run.Samples == 0) return said is null ? null
            : ArchiveText.ImportNoTrace(latest.Head.SpecimenId, run.RunId);
        CalibrationRecord? calibration = look.Calibrations.FirstOrDefault(known => known.Id == latest.Head.CalibrationId);
        if (calibration is null) return said is null ? null
            : ArchiveText.ImportNoCalibration(latest.Head.SpecimenId, latest.Head.CalibrationId);
        ComplianceRecord? compliance = look.Compliances.FirstOrDefault(known => known.Id == latest.Reading?.ComplianceId);
        // A run that was moved to another specimen knows it; its raw pull names the one that it was pulled as.
        Run anew = RunCalculation.Calculate(pull with { Head = latest.Head }, look.Study, calibration, latest.RevisedAt,
            compliance?.ToCompliance());
        double? follows = anew.Strength?.Megapascals;
        bool alike = said is { } one && follows is { } other ? Math.Abs(one - other) <= ToleranceShare * Math.Abs(other) : said is null
            && follows is null;
        return alike ? null : ArchiveText.ImportDoesNotFollow(latest.Head.SpecimenId, run.RunId, said, follows);
    }
}
