namespace RigDaq.Rig.Text;

/// <content>What is wrong with the plan of a sequence.</content>
internal static partial class RigText
{
    public const string NoSequenceId = "The sequence has no id.";
    public const string NoStudyNamed = "The sequence names no study.";
    public const string NoSpecimens = "The sequence has no specimens: name at least one.";
    public const string SpecimenWithoutLabel = "A specimen has no label.";
    public const string ClampingForceMaxOutside = "The greatest clamping force must be above 0 N and below the force limit.";
    public const string ZeroWindowTooLong = "The zero window is at most 60 s.";
    public const string PreloadTooHigh = "The preload must be below the force limit.";
    public const string PullSpeed = "pull speed";
    public const string SlackSpeed = "slack speed";
    public const string ReturnSpeed = "return speed";
    public const string AccelerationOfPull = "acceleration";
    public const string ForceLimit = "force limit";
    public const string CompressionLimit = "compression limit";
    public const string TravelLimit = "travel limit";
    public const string TimeLimit = "time limit";
    public const string ZeroWindow = "zero window";
    public const string PreloadForce = "preload";

    public static string TooManySpecimens(int specimens, int specimensMax) => $"The sequence has {specimens} specimens; at most {specimensMax} are possible.";

    public static string SpecimenNamedTwice(string specimen, int times) => $"Specimen \"{specimen}\" is named {times} times: each can be pulled once.";

    public static string AnnouncedDelayOutside(double seconds, double secondsMin, double secondsMax) =>
        $"The announced delay is {seconds} s; {secondsMin} to {secondsMax} s are possible.";

    public static string TimeLimitTooLong(double secondsMax) => $"The time limit is at most {secondsMax} s.";

    public static string NotAboveZero(string name, double value, string unit) => $"The {name} is {value} {unit}; it must be above 0.";
}
