namespace RigDaq.Core.Safety;

/// <summary>Where a rig's tests of its safety functions are kept. What is added is on the disk when the call returns.</summary>
public interface ISafetyDiary
{
    /// <summary>Adds a test.</summary>
    void Add(EmergencyStopTest test);

    /// <summary>A device's tests, oldest first.</summary>
    IReadOnlyList<EmergencyStopTest> EmergencyStopTests(string deviceId);

    /// <summary>Adds a first start.</summary>
    void Add(FirstStartTest test);

    /// <summary>A device's first starts, oldest first.</summary>
    IReadOnlyList<FirstStartTest> FirstStarts(string deviceId);
}
