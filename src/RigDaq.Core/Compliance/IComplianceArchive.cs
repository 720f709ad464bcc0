namespace RigDaq.Core.Compliance;

/// <summary>Where compliances are kept. What is saved is on the disk when a call returns.</summary>
public interface IComplianceArchive
{
    /// <summary>Keeps one.</summary>
    void Save(ComplianceRecord compliance);

    /// <summary>Keeps the raw pulls that one is fitted from; before it, so that none stands without.</summary>
    void Save(string complianceId, BarPulls pulls);

    /// <summary>One by its id, or null.</summary>
    ComplianceRecord? FindCompliance(string complianceId);

    /// <summary>The raw pulls of a measured one, or null.</summary>
    BarPulls? FindBarPulls(string complianceId);

    /// <summary>A device's, oldest first; of all devices, where it is null.</summary>
    IReadOnlyList<ComplianceRecord> Compliances(string? deviceId);
}
