namespace RigDaq.Rig.Interlocks;

/// <summary>What a person is to read and acknowledge before anything moves.</summary>
public static class Cautions
{
    /// <summary>The scope under which jogging, homing and moving by hand are acknowledged; a sequence has its own id.</summary>
    public const string HandMotionScope = "hand motion";

    /// <summary>The cautions, most dangerous first.</summary>
    public static IReadOnlyList<string> All { get; } =
    [
        "Pinch and crush points: keep hands out from between crosshead, grips and frame; keep the guard closed and the travel clear of tools.",
        "Stored energy is let go at the break: wear eye protection and keep a shield against flying pieces in place.",
        "The emergency stop must cut the motor's power in hardware. This software is never the safety device.",
        "Do not leave a powered rig where others can reach it. For unattended work follow local rules and the advice of qualified people.",
    ];
}
