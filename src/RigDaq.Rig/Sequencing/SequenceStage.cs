namespace RigDaq.Rig.Sequencing;

/// <summary>Where a sequence stands.</summary>
public enum SequenceStage
{
    /// <summary>The zero is taken, then a specimen is to be put into the grips.</summary>
    WaitingForSpecimen,

    /// <summary>A specimen is in the grips; the announced delay runs and the clamping force is looked at.</summary>
    Ready,

    /// <summary>The crosshead moves until the preload is felt.</summary>
    TakingUpSlack,

    /// <summary>The specimen is being pulled, or what is left settles after it.</summary>
    Pulling,

    /// <summary>The crosshead goes back while the run is stored.</summary>
    Returning,

    /// <summary>Something is odd: nothing moves until a person decides.</summary>
    Held,

    /// <summary>Nothing is left to do.</summary>
    Finished,
}

/// <summary>The stages in the words that people see.</summary>
public static class SequenceStages
{
    /// <summary>The word for <paramref name="stage"/>, for example "taking up slack".</summary>
    public static string Word(this SequenceStage stage) => stage switch
    {
        SequenceStage.WaitingForSpecimen => "waiting for specimen",
        SequenceStage.Ready => "ready",
        SequenceStage.TakingUpSlack => "taking up slack",
        SequenceStage.Pulling => "pulling",
        SequenceStage.Returning => "returning",
        SequenceStage.Held => "held",
        SequenceStage.Finished => "finished",
        _ => throw new ArgumentOutOfRangeException(nameof(stage), stage, "No such stage."),
    };
}
