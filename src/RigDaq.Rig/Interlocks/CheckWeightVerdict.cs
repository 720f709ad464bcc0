namespace RigDaq.Rig.Interlocks;

/// <summary>What the check weight's chart says under the calibration in force.</summary>
public enum CheckWeightVerdict
{
    /// <summary>It is within its limits, or there is none.</summary>
    Inside,

    /// <summary>It asks for a new calibration.</summary>
    Outside,

    /// <summary>It could not be read: nobody knows, so nothing starts.</summary>
    Unread,
}
