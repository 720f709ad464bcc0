namespace RigDaq.Protocol.Conformance;

/// <summary>What one check found.</summary>
/// <param name="Section">The section of PROTOCOL.md that it checks.</param>
/// <param name="Check">What must hold, in words.</param>
/// <param name="Outcome">Whether it does.</param>
/// <param name="Detail">What was seen instead, or why it was not checked; empty where it holds.</param>
public readonly record struct ConformanceFinding(int Section, string Check, ConformanceOutcome Outcome, string Detail);

/// <summary>How a check ended.</summary>
public enum ConformanceOutcome
{
    /// <summary>It holds.</summary>
    Holds,

    /// <summary>It does not.</summary>
    Fails,

    /// <summary>It could not be checked here; the detail says why.</summary>
    NotChecked,
}
