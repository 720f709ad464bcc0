namespace RigDaq.Rig.Text;

/// <content>Why samples cannot be kept.</content>
internal static partial class RigText
{
    public const string DiskTooSlow = "the disk is slower than the samples come.";
    public const string TooManySamples = "the pull has more samples than can be kept.";
    public const string PullNotOpen = "the program no longer holds this pull; its capture becomes a run at the next start.";
    public const string CaptureNeeds = "a device, a calibration and a zero are needed.";
}
