namespace RigDaq.Rig.Text;

/// <content>What a stop is answered with.</content>
internal static partial class RigText
{
    public const string ToldToStop = "The crosshead was told to stop.";
    public const string NothingToStop = "No device is connected: it stops by itself when its keep-alive stays away. Press the emergency stop where in doubt.";

    public static string StopTurning(bool sequenceIsHeld) =>
        $"There is nothing to stop: this device has no motor. Stop turning the handle.{(sequenceIsHeld ? " The sequence is held." : "")}";
}
