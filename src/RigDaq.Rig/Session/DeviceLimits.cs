namespace RigDaq.Rig.Session;

/// <summary>The limits that a device is to hold by itself, in its own units. Equal by value.</summary>
/// <param name="ForceCountsMin">The lowest force, in absolute counts.</param>
/// <param name="ForceCountsMax">The greatest force, in absolute counts.</param>
/// <param name="TravelStepsMin">The lowest position, in steps.</param>
/// <param name="TravelStepsMax">The greatest position, in steps.</param>
/// <param name="SpeedStepsPerSecondMax">The greatest speed.</param>
/// <param name="AccelerationStepsPerSecondSquaredMax">The greatest acceleration.</param>
/// <param name="MotionMillisecondsMax">How long one motion may last.</param>
internal sealed record DeviceLimits(int ForceCountsMin, int ForceCountsMax, int TravelStepsMin, int TravelStepsMax,
    uint SpeedStepsPerSecondMax, uint AccelerationStepsPerSecondSquaredMax, uint MotionMillisecondsMax)
{
    /// <summary>An acceleration in steps/s², as far as it lies within them.</summary>
    public uint Acceleration(double stepsPerSecondSquared) =>
        (uint)Math.Clamp(Math.Round(stepsPerSecondSquared), 1, AccelerationStepsPerSecondSquaredMax);
}
