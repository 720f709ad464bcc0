using RigDaq.Protocol.Messages;

namespace RigDaq.Rig.Control;

/// <summary>How far the force goes on beyond its limit when the crosshead runs into something stiff: the device decides by two conversions
/// (PROTOCOL.md, 8), each shows the force of a delay ago, and then it has to stop.</summary>
internal static class StopOvershoot
{
    /// <summary>From the deciding conversion to the last step, in seconds: as much as an input's reaction may take. The reference firmware
    /// takes a millisecond.</summary>
    public const double ReactionSeconds = 0.005;

    /// <summary>The device with the converter's delay by configuration, where that is longer than what the device says: then its
    /// conversions show the force of longer ago, and the stop comes later. A shorter one is not relied upon for a stop.</summary>
    public static HelloMessage WithDelay(HelloMessage hello, double? configuredSeconds) =>
        configuredSeconds is { } seconds && seconds * 1e6 > hello.ConverterDelayMicroseconds
            ? hello with { ConverterDelayMicroseconds = (uint)Math.Ceiling(seconds * 1e6) }
            : hello;

    /// <summary>From the limit to the last step at most, in seconds: two intervals, the converter's delay, the reaction.</summary>
    public static double Seconds(HelloMessage hello) =>
        (2000.0 / hello.ConverterRateMillihertz) + (hello.ConverterDelayMicroseconds * 1e-6) + ReactionSeconds;

    /// <summary>The force beyond the limit at most, in N: stiffness × speed × time.</summary>
    public static double Newtons(HelloMessage hello, double stiffnessNewtonsPerMillimetre, double millimetresPerSecond) =>
        stiffnessNewtonsPerMillimetre * millimetresPerSecond * Seconds(hello);

    /// <summary>The speed at which the force stays within <paramref name="roomNewtons"/> beyond the limit, in mm/s.</summary>
    public static double MillimetresPerSecondMax(HelloMessage hello, double stiffnessNewtonsPerMillimetre, double roomNewtons) =>
        Math.Max(0, roomNewtons) / (stiffnessNewtonsPerMillimetre * Seconds(hello));
}
