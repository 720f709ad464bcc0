namespace RigDaq.Rig.Sequencing;

/// <summary>The bounds of everything a sequence waits for, and the windows it measures.</summary>
internal static class SequenceLimits
{
    /// <summary>How many windows may be restless before a zero is given up.</summary>
    public const int ZeroTriesMax = 20;

    /// <summary>How many windows the zero that is taken after a break may take; that of before then stands.</summary>
    public const int ZeroApartTriesMax = 4;

    /// <summary>How many pulls may begin with one zero.</summary>
    public const int PullsOnZeroMax = 50;

    /// <summary>How many windows may be restless before the clamping force is given up.</summary>
    public const int ClampTriesMax = 20;

    /// <summary>How often a clamping force is relieved before a person is asked.</summary>
    public const int ReliefTriesMax = 5;

    /// <summary>How many windows the zero after a break may take; it is then left out of the run.</summary>
    public const int ZeroReturnTriesMax = 4;

    /// <summary>The window of the clamping force, in seconds of device time.</summary>
    public const double ClampSeconds = 0.25;

    /// <summary>The longest window of the zero after a break, in seconds of device time.</summary>
    public const double ZeroReturnSecondsMax = 0.5;

    /// <summary>How far the crosshead may go to relieve a clamping force, in mm.</summary>
    public const double ReliefTravelMillimetres = 2;

    /// <summary>What carries no load any more is drawn so much further apart, in mm: a sliding end has to be clear of its grip.</summary>
    public const double SeparationMillimetres = 1;

    /// <summary>How fast a clamping force is relieved at the first try, in mm/s; each further try halves it. A rig of 1,000 N/mm changes
    /// its force by 20 N/s at this speed, so that what passes between a sample and the stop (some 50 ms) stays near 1 N.</summary>
    public const double ReliefSpeedMillimetresPerSecond = 0.02;

    /// <summary>A clamping force counts as relieved below this share of what is allowed.</summary>
    public const double RelievedShare = 0.5;

    /// <summary>So near to its start position the crosshead counts as there, in mm.</summary>
    public const double StartToleranceMillimetres = 0.05;

    /// <summary>How long the limits may take to be confirmed, in wall time.</summary>
    public static readonly TimeSpan LimitsMax = TimeSpan.FromSeconds(5);

    /// <summary>How long the crosshead may take to stand after a stop, in wall time.</summary>
    public static readonly TimeSpan StandMax = TimeSpan.FromSeconds(3);

    /// <summary>How long the feeder may take, in wall time.</summary>
    public static readonly TimeSpan FeedMax = TimeSpan.FromMinutes(2);

    /// <summary>How long going back and storing the run may take, in wall time.</summary>
    public static readonly TimeSpan ReturnMax = TimeSpan.FromMinutes(2);

    /// <summary>How long a capture may take to be created, in wall time.</summary>
    public static readonly TimeSpan CaptureMax = TimeSpan.FromSeconds(30);

    /// <summary>How long a window may take in wall time: where the converter goes on but its clock does not.</summary>
    public static readonly TimeSpan WindowMax = TimeSpan.FromMinutes(2);
}
