using RigDaq.Core.Calibration;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;

namespace RigDaq.Core.Compliance;

/// <summary>Which compliance goes with a run.</summary>
public static class ComplianceInForce
{
    /// <summary>
    /// The newest of a device that was measured before a run started, as it was fitted again under the run's calibration where it was; null
    /// where there was none.
    /// </summary>
    /// <param name="archive">Where they are kept.</param>
    /// <param name="deviceId">The device.</param>
    /// <param name="started">When the run started.</param>
    /// <param name="calibrationId">The run's calibration; null for the one as it was measured.</param>
    public static ComplianceRecord? ComplianceAt(this IComplianceArchive archive, string deviceId, DateTimeOffset started,
        string? calibrationId = null)
    {
        IReadOnlyList<ComplianceRecord> all = archive.Compliances(deviceId);
        ComplianceRecord? measured = all.Where(record => MeasuredOf(record, all) == record && record.MeasuredAt <= started)
            .OrderBy(record => record.MeasuredAt).LastOrDefault();
        return measured is null ? null : Fitted(measured, calibrationId, all) ?? measured;
    }

    /// <summary>The one that a run was read with, to read it with again; null where it was read without.</summary>
    public static ComplianceRecord? ComplianceOf(this IComplianceArchive archive, Run run) =>
        run.Reading?.ComplianceId is { } id ? archive.FindCompliance(id) : null;

    /// <summary>
    /// A compliance as it goes with a calibration: itself where it was measured under that one, else as it was fitted again under it, now
    /// if need be; a new one is kept.
    /// </summary>
    /// <param name="archive">Where they are kept.</param>
    /// <param name="compliance">The compliance, measured or fitted again.</param>
    /// <param name="calibration">The calibration that the forces are read by.</param>
    /// <param name="calibrations">Finds a calibration by its id.</param>
    /// <param name="pulls">Finds a run's raw pull by its id.</param>
    /// <param name="now">When.</param>
    /// <exception cref="ArgumentException">It cannot be had; the message says why and what to do.</exception>
    public static ComplianceRecord ComplianceUnder(
        this IComplianceArchive archive, ComplianceRecord compliance, CalibrationRecord calibration, Func<string,
            CalibrationRecord?> calibrations,
        Func<string, PullRecord?> pulls, DateTimeOffset now)
    {
        if (compliance.CalibrationId == calibration.Id) return compliance;
        IReadOnlyList<ComplianceRecord> all = archive.Compliances(compliance.DeviceId);
        ComplianceRecord measured = MeasuredOf(compliance, all);
        if (measured.CalibrationId == calibration.Id) return measured;
        if (Fitted(measured, calibration.Id, all) is { } fitted) return fitted;
        ComplianceRecord anew = ComplianceRefit.Under(
            measured, calibration, measured.CalibrationId is { } before ? calibrations(before) : null, archive.FindBarPulls(measured.Id),
            measured.RunId is { } run ? pulls(run) : null, now);
        archive.Save(anew);
        return anew;
    }

    /// <summary>As it was fitted again under a calibration; null where it was not.</summary>
    public static ComplianceRecord? Fitted(ComplianceRecord measured, string? calibrationId, IReadOnlyList<ComplianceRecord> all) =>
        all.LastOrDefault(record => record.RefittedFrom == measured.Id && record.CalibrationId == calibrationId);

    /// <summary>The record as it was measured. One whose origin is not kept here (it came with a study from elsewhere) stands for
    /// itself.</summary>
    public static ComplianceRecord MeasuredOf(ComplianceRecord record, IReadOnlyList<ComplianceRecord> all) =>
        record.RefittedFrom is { } id && all.FirstOrDefault(other => other.Id == id) is { } measured ? measured : record;
}
