using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.Interlocks;

/// <summary>What a person is to read and acknowledge before anything moves.</summary>
public static class Cautions
{
    /// <summary>The scope under which jogging, homing and moving by hand are acknowledged; a sequence has its own id.</summary>
    public const string HandMotionScope = "hand motion";

    /// <summary>The cautions, most dangerous first.</summary>
    public static IReadOnlyList<Sentence> All { get; } =
    [
        RigText.CautionHands,
        RigText.CautionEyes,
        RigText.CautionEmergencyStop,
        RigText.CautionUnattended,
    ];
}
