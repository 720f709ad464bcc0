namespace RigDaq.Core.Pulls;

/// <summary>How far a pull has come, as its force alone tells.</summary>
public enum DetectorState
{
    /// <summary>The force has not risen above contact.</summary>
    NoContact,

    /// <summary>The specimen carries load.</summary>
    Loading,

    /// <summary>The force has fallen below its limit and may yet recover.</summary>
    Falling,

    /// <summary>The specimen has parted and nothing is left.</summary>
    Broken,

    /// <summary>It has parted but still carries some load.</summary>
    PartlyBroken,

    /// <summary>The force fell as far, but slowly.</summary>
    SlippedOut,
}

/// <summary>
/// Watches a pull while it runs: one pass, no allocation per sample, no look-ahead beyond the settling window.
/// Once <see cref="DetectorState.Broken"/>, <see cref="DetectorState.PartlyBroken"/> or
/// <see cref="DetectorState.SlippedOut"/> is reached it stays.
/// </summary>
public interface IPullDetector
{
    /// <summary>Where the pull stands now.</summary>
    DetectorState State { get; }

    /// <summary>The greatest despiked force so far, in newtons above zero; 0 before any.</summary>
    double RunningMaximumNewtons { get; }

    /// <summary>Takes one sample.</summary>
    /// <param name="timeSeconds">Device time, rising.</param>
    /// <param name="forceNewtons">Force above zero; a value that is not finite is taken as lost.</param>
    /// <returns>The state after it.</returns>
    DetectorState Add(double timeSeconds, double forceNewtons);
}
