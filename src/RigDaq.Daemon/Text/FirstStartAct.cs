namespace RigDaq.Daemon.Text;

/// <summary>What a person at the rig is asked to do or to say, beside the words that ask for it.</summary>
internal enum FirstStartAct
{
    /// <summary>Nothing: only told.</summary>
    None,

    /// <summary>To say that the cautions were read and that the rig stands ready.</summary>
    Acknowledge,

    /// <summary>To pull on the cell by hand.</summary>
    PullOnCell,

    /// <summary>To let go of the cell.</summary>
    LetGoOfCell,

    /// <summary>To open the guard.</summary>
    OpenGuard,

    /// <summary>To close the guard.</summary>
    CloseGuard,

    /// <summary>To press the emergency stop.</summary>
    PressStop,

    /// <summary>To release the emergency stop.</summary>
    ReleaseStop,

    /// <summary>To press the lower limit's switch.</summary>
    PressLower,

    /// <summary>To let go of the lower limit's switch.</summary>
    LetGoOfLower,

    /// <summary>To press the upper limit's switch.</summary>
    PressUpper,

    /// <summary>To let go of the upper limit's switch.</summary>
    LetGoOfUpper,

    /// <summary>To say that the crosshead may begin to creep.</summary>
    Begin,

    /// <summary>To say which way the grips went.</summary>
    WhichWay,

    /// <summary>To say whether the motor's power is gone.</summary>
    PowerGone,
}
