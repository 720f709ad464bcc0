namespace RigDaq.Rig.Text;

/// <content>How a sequence stands, and which wish cannot be met.</content>
internal static partial class RigText
{
    public const string SequenceNotBegun = "It has not begun.";
    public const string AllSpecimensDone = "All specimens are done.";
    public const string StoppedByPerson = "A person stopped it. Resuming goes on.";
    public const string EndedByPerson = "A person ended the sequence.";
    public const string EndedWithProgram = "The program ended.";
    public const string HomeThenResume = "The crosshead's position is not known: home, then resume.";
    public const string HomeFirst = "The crosshead's position is not known: home first.";
    public const string SequenceIsFinished = "The sequence is finished: start another one.";
    public const string FeederHasOnlyNext = "The feeder has nothing but the next specimen: this one cannot be pulled again. Resume goes on.";
    public const string SkipWhileHeld = "A specimen can be skipped while the sequence is held or waits for a person to put it in: stop first.";
    public const string NoConfirmationAsked = "No confirmation is asked for now.";
    public const string OpenGripNotAsked = "Nobody asks now whether the far grip is open.";
    public const string CloseGuardThenConfirm = "The guard is open: close it, then confirm.";
    public const string ZeroWhileWaiting = "The zero can be taken while the sequence waits for a specimen, the far grip open.";
    public const string StillBeingStored = "The last pull is still being stored: wait a moment.";
    public const string SequenceNotHeld = "The sequence is not held: there is nothing to resume.";
}
