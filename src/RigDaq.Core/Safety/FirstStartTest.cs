namespace RigDaq.Core.Safety;

/// <summary>What is tried at a rig's first start, in this order: first standing, then at creep speed, with nothing in the grips.</summary>
public enum FirstStartStep
{
    /// <summary>The converter lives, and a pull by hand raises its counts.</summary>
    Converter,

    /// <summary>The guard reads open when it is, and closed.</summary>
    Guard,

    /// <summary>The emergency stop's second contact reads pressed, and released.</summary>
    EmergencyStop,

    /// <summary>The limit with the grips together reads reached when its switch is pressed, and it alone.</summary>
    LowerLimit,

    /// <summary>The limit with the grips apart, the same.</summary>
    UpperLimit,

    /// <summary>Commanded apart, the grips go apart.</summary>
    Apart,

    /// <summary>Commanded together, they go together.</summary>
    Together,

    /// <summary>The limit ahead stops a motion apart.</summary>
    UpperLimitWhileApart,

    /// <summary>The limit behind stops a motion apart too: a drive that runs the wrong way would reach it.</summary>
    LowerLimitWhileApart,

    /// <summary>The limit ahead stops a motion together.</summary>
    LowerLimitWhileTogether,

    /// <summary>The limit behind stops a motion together too.</summary>
    UpperLimitWhileTogether,

    /// <summary>The emergency stop in motion: steps end, the device takes the enable away, and a person saw the supply gone.</summary>
    EmergencyStopInMotion,

    /// <summary>The guard opened in motion: steps end, the device takes the enable away.</summary>
    GuardInMotion,

    /// <summary>The home position is found.</summary>
    Home,
}

/// <summary>What came of a step.</summary>
public enum FirstStartOutcome
{
    /// <summary>It did what it must.</summary>
    Passed,

    /// <summary>It did not; nothing moved after it.</summary>
    Failed,

    /// <summary>It was not tried: a person left it out, or an earlier step had failed.</summary>
    LeftOut,

    /// <summary>The device has no such thing.</summary>
    NotThere,
}

/// <summary>One step and what came of it.</summary>
/// <param name="Step">Which.</param>
/// <param name="Outcome">What came of it.</param>
/// <param name="Detail">What was seen, for people; may be empty.</param>
public sealed record FirstStartFinding(FirstStartStep Step, FirstStartOutcome Outcome, string Detail);

/// <summary>A first start that a person was led through: after building, and after every change of wiring, firmware or travel.</summary>
/// <param name="DeviceId">The device, as 16 hexadecimal digits.</param>
/// <param name="At">When it ended.</param>
/// <param name="FirmwareVersion">As the device's hello tells it.</param>
/// <param name="Findings">Every step, in order.</param>
public sealed record FirstStartTest(string DeviceId, DateTimeOffset At, int FirmwareVersion, IReadOnlyList<FirstStartFinding> Findings)
{
    /// <summary>Whether all that the device has was tried and did what it must.</summary>
    public bool HasPassed() => Enum.GetValues<FirstStartStep>()
        .All(step => Findings.Any(f => f.Step == step && f.Outcome is FirstStartOutcome.Passed or FirstStartOutcome.NotThere));
}
