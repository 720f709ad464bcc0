namespace RigDaq.Core.Compliance;

/// <summary>Which compliance goes with a run.</summary>
public static class ComplianceInForce
{
    /// <summary>The newest that was measured before a run started, as it was fitted again under the run's calibration where it was; null
    /// where there was none.</summary>
    /// <param name="all">The device's.</param>
    /// <param name="started">When the run started.</param>
    /// <param name="calibrationId">The run's calibration; null for the one as it was measured.</param>
    public static ComplianceRecord? At(IReadOnlyList<ComplianceRecord> all, DateTimeOffset started, string? calibrationId = null)
    {
        ComplianceRecord? measured = all.Where(record => MeasuredOf(record, all) == record && record.MeasuredAt <= started)
            .OrderBy(record => record.MeasuredAt).LastOrDefault();
        return measured is null ? null : Fitted(measured, calibrationId, all) ?? measured;
    }

    /// <summary>As it was fitted again under a calibration; null where it was not.</summary>
    public static ComplianceRecord? Fitted(ComplianceRecord measured, string? calibrationId, IReadOnlyList<ComplianceRecord> all) =>
        all.LastOrDefault(record => record.RefittedFrom == measured.Id && record.CalibrationId == calibrationId);

    /// <summary>The record as it was measured. One whose origin is not kept here (it came with a study from elsewhere) stands for
    /// itself.</summary>
    public static ComplianceRecord MeasuredOf(ComplianceRecord record, IReadOnlyList<ComplianceRecord> all) =>
        record.RefittedFrom is { } id && all.FirstOrDefault(other => other.Id == id) is { } measured ? measured : record;
}
