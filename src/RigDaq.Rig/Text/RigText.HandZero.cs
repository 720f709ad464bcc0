namespace RigDaq.Rig.Text;

/// <content>The zero that a person asks for.</content>
internal static partial class RigText
{
    public const string ZeroIsBeingTaken = "The zero is being taken: do not touch the rig.";
    public const string HeldKeepsZero =
        "The sequence is held and keeps its zero, which the next pull is measured from: resume, and take the zero while it waits for a specimen.";
    public const string OpenGripFirst = "Open the far grip first, then confirm that it is open.";
    public const string ZeroTakenAlready = "The zero is being taken already.";
    public const string ZeroIsTaken = "The zero is taken.";

    public static string KeepHandsOff(string why) => $"The force does not come to rest ({why}): keep hands off and try again.";

    public const string NoSamplesForZero = "No samples arrived to take a zero from: look at the converter.";
}
