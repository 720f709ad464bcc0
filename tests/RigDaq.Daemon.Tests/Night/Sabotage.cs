namespace RigDaq.Daemon.Tests.Night;

/// <summary>What is broken on purpose, one thing for each invariant, to show that the night would notice.</summary>
internal enum Sabotage
{
    Nothing,

    // Nothing moves unless …

    /// <summary>The guard's switch says closed while it is open.</summary>
    BridgesTheGuard,

    /// <summary>The emergency stop's contact says released while it is pressed.</summary>
    BridgesTheEmergencyStop,

    /// <summary>The cautions count as read though nobody has read them.</summary>
    LooksAwayFromCautions,

    /// <summary>A calibration whose time is over is taken for one in force.</summary>
    PullsWithoutCalibration,

    /// <summary>Greater limits are sent than were asked for.</summary>
    WidensTheLimits,

    // The device stops by itself.

    /// <summary>Somebody else sends keep-alives when the program is dead.</summary>
    KeepsTheDeviceAlive,

    // Every pull ends in exactly one stored outcome, which survives.

    /// <summary>A run is acknowledged and not stored.</summary>
    AcknowledgesWithoutStoring,

    /// <summary>What a crash left without a run gets none.</summary>
    RecoversNothing,

    /// <summary>A pull is stored as two runs.</summary>
    StoresTwice,

    /// <summary>A power cut takes what the journal had flushed.</summary>
    LosesTheJournal,

    // Live data may be dropped and is counted; results never are.

    /// <summary>A message leaves the outbox before a broker has it.</summary>
    ForgetsMessages,

    /// <summary>A live block is lost on its way and not counted.</summary>
    DropsUncounted,

    /// <summary>An onlooker's queue is longer than it may be.</summary>
    HasNoBound,

    // What is journalled can be read back; no recovery gives less than any one file holds.

    /// <summary>A line of the journal cannot be read.</summary>
    PoisonsTheJournal,

    /// <summary>Half of what a capture held is left behind.</summary>
    RecoversLess,

    /// <summary>Something is written to the disk on the control thread.</summary>
    WritesOnTheControlThread,

    // Nothing starts on fingers.

    /// <summary>The pull is confirmed while hands are in.</summary>
    ConfirmsForThePerson,

    /// <summary>The announced delay is shorter than was asked for.</summary>
    HurriesThePerson,

    // Anything wrong gets words.

    /// <summary>A sequence is held and nobody is told why.</summary>
    SaysNothing,
}
