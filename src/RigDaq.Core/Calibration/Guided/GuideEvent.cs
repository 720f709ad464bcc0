using RigDaq.Core.Signal;

namespace RigDaq.Core.Calibration.Guided;

/// <summary>What can happen to a guided calibration.</summary>
public abstract record GuideEvent
{
    private GuideEvent()
    {
    }

    /// <summary>Samples came.</summary>
    /// <param name="Block">In the order of their numbers.</param>
    /// <param name="BootNumber">The device's start that they come from, where it is known: another one begins warm-up and series
    /// anew.</param>
    public sealed record Samples(IReadOnlyList<RawSample> Block, uint? BootNumber = null) : GuideEvent;

    /// <summary>A person did something.</summary>
    /// <param name="Action">What.</param>
    /// <param name="Degree">The degree of the curve that is accepted, 1 to 3.</param>
    public sealed record Person(PersonAction Action, int Degree = 1) : GuideEvent;
}

/// <summary>What a person can do.</summary>
public enum PersonAction
{
    /// <summary>Go on though the zero still drifts; noted in the record.</summary>
    SkipWarmUp,

    /// <summary>Take the reading though it does not fit the others; noted in the record.</summary>
    TakeAnyway,

    /// <summary>Take the last reading again.</summary>
    GoBack,

    /// <summary>Begin the series again.</summary>
    RestartSeries,

    /// <summary>Leave the creep unread.</summary>
    SkipDwell,

    /// <summary>Stop for now.</summary>
    Pause,

    /// <summary>Go on.</summary>
    Resume,

    /// <summary>Agree that counts fall as the force rises.</summary>
    TurnSign,

    /// <summary>Put it in force.</summary>
    Accept,

    /// <summary>Give it up; nothing changes.</summary>
    Abandon,
}
