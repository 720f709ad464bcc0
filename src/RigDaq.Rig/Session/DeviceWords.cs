using RigDaq.Protocol.Messages;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.Session;

/// <summary>What a device's bits and answers mean, in words that a person can act on.</summary>
internal static class DeviceWords
{
    private static (DeviceFaults Fault, Sentence Words)[] Faults =>
    [
        (DeviceFaults.EmergencyStop, RigText.FaultEmergencyStop),
        (DeviceFaults.GuardOpened, RigText.FaultGuardOpened),
        (DeviceFaults.ForceLimit, RigText.FaultForceLimit),
        (DeviceFaults.TravelLimit, RigText.FaultTravelLimit),
        (DeviceFaults.TimeLimit, RigText.FaultTimeLimit),
        (DeviceFaults.KeepAliveLost, RigText.FaultKeepAlive),
        (DeviceFaults.Converter, RigText.FaultConverter),
        (DeviceFaults.Driver, RigText.FaultDriver),
        (DeviceFaults.Watchdog, RigText.FaultWatchdog),
    ];

    private static (StartCauses Cause, Sentence Words)[] Causes =>
    [
        (StartCauses.Watchdog, RigText.StartedByWatchdog),
        (StartCauses.PowerOn, RigText.StartedByPower),
        (StartCauses.BrownOut, RigText.StartedByBrownOut),
        (StartCauses.ResetPin, RigText.StartedByResetPin),
        (StartCauses.Untold, RigText.StartedUntold),
        (StartCauses.Held, RigText.StartedHeld),
    ];

    private static readonly int KnownBits = Faults.Aggregate(0, (bits, f) => bits | (int)f.Fault);

    /// <summary>Each latched fault in words.</summary>
    public static IReadOnlyList<Sentence> Of(DeviceFaults faults)
    {
        if (faults == DeviceFaults.None) return [];
        List<Sentence> words = [.. Faults.Where(f => faults.HasFlag(f.Fault)).Select(f => f.Words)];
        int unknown = (int)faults & ~KnownBits;
        if (unknown != 0) words.Add(RigText.FaultOfNewerKind(unknown));
        return words;
    }

    /// <summary>Why a device started, in words; empty where it does not say.</summary>
    public static Sentence Of(StartCauses causes)
        => Causes.Where(c => causes.HasFlag(c.Cause)).Select(c => c.Words).ToArray() is { Length: > 0 } known ? RigText.SeveralWords(known)
            : Sentence.None;

    /// <summary>Why a command was not done.</summary>
    public static Sentence Of(AnswerResult result) => result switch
    {
        AnswerResult.Done => RigText.AnswerDone,
        AnswerResult.UnknownType => RigText.AnswerUnknownType,
        AnswerResult.BadValue => RigText.AnswerBadValue,
        AnswerResult.WrongBoot => RigText.AnswerWrongBoot,
        AnswerResult.WrongLimits => RigText.AnswerWrongLimits,
        AnswerResult.Faulted => RigText.AnswerFaulted,
        AnswerResult.GuardOpen => RigText.AnswerGuardOpen,
        AnswerResult.EmergencyStopPressed => RigText.AnswerEmergencyStop,
        AnswerResult.NoKeepAlive => RigText.AnswerNoKeepAlive,
        AnswerResult.Busy => RigText.AnswerBusy,
        AnswerResult.NotCapable => RigText.AnswerNotCapable,
        AnswerResult.OutsideLimits => RigText.AnswerOutsideLimits,
        AnswerResult.NotHomed => RigText.AnswerNotHomed,
        AnswerResult.Superseded => RigText.AnswerSuperseded,
        _ => RigText.AnswerOfNewerKind((int)result),
    };
}
