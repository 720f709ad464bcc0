namespace RigDaq.Protocol.Messages;

/// <summary>What the crosshead does.</summary>
public enum MotionState : byte
{
    /// <summary>It stands.</summary>
    Still = 0,

    /// <summary>It moves as commanded.</summary>
    Moving = 1,

    /// <summary>It slows down to a stop.</summary>
    Stopping = 2,

    /// <summary>It looks for the home position.</summary>
    Homing = 3,

    /// <summary>The feeder is at work.</summary>
    Feeding = 4,
}
