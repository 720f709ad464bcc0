namespace RigDaq.Rig.Text;

/// <content>What a person’s commands are answered with.</content>
internal static partial class RigText
{
    public const string AnotherSequence = "Another sequence is not finished: finish it first.";
    public const string CalibrateFirst = "Without any calibration there is no force to pull by: calibrate first.";

    public static string SequenceHasBegun(int specimens) => $"The sequence of {specimens} specimens has begun.";

    public const string NoSequence = "No sequence was started.";
    public const string SequenceGoesOn = "The sequence goes on.";
    public const string SpecimenLeftOut = "The specimen is left out.";
    public const string SpecimenPulledAgain = "The specimen is pulled again.";
    public const string SequenceIsEnded = "The sequence is ended.";
    public const string PullIsAnnounced = "The pull is announced: keep clear.";
    public const string SayWhichSequence = "Say for which sequence the cautions are acknowledged.";
    public const string CautionsAcknowledged = "The cautions are acknowledged.";
    public const string ProgramIsEnding = "The program is ending.";
    public const string RigNotStarted = "The rig was not started.";
}
