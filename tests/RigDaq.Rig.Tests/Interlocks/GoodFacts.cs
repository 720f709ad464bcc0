using RigDaq.Rig.Interlocks;

namespace RigDaq.Rig.Tests.Interlocks;

/// <summary>Everything stands for motion: what a test takes away from it is what it is about.</summary>
internal static class GoodFacts
{
    public static readonly InterlockFacts All = new()
    {
        LinkUp = true,
        DeviceKnown = true,
        CanMove = true,
        GuardClosed = true,
        EmergencyStopReleased = true,
        ConverterAlive = true,
        CalibrationInForce = true,
        CalibrationCoversForceLimit = true,
        CautionsAcknowledged = true,
        EmergencyStopTested = true,
        LimitsConfirmed = true,
    };
}
