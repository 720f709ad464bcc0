namespace RigDaq.Core.Trace;

/// <summary>A cell that is let go rings. How long that matters depends on who asks, so the times differ; they stand side by side so that
/// whoever changes one sees the others.</summary>
internal static class Ringing
{
    /// <summary>While the pull runs (<see cref="BreakDetector"/>): what is back above the high level sooner than this after the fall is no
    /// recovery. Nothing later is in sight yet, so all of the swing has to be over.</summary>
    public const double RecoverySecondsMin = 0.05;

    /// <summary>Afterwards (<see cref="FallFinder"/>): a stretch above the limit that lasts less than this is carried by no specimen. Its
    /// end is in sight, so no more than one half of a swing has to be told from it.</summary>
    public const double HeldSecondsMin = 0.02;

    /// <summary>Samples that stand alone are taken for ringing, and not counted as wild conversions, until so long after the fall: small
    /// swings stand out of the noise for longer than any that reaches back above a limit.</summary>
    public const double SpikesSecondsMax = 0.1;
}
