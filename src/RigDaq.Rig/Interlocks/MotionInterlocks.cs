using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.Interlocks;

/// <summary>Whether the crosshead may move. One pure function, asked before every motion command.</summary>
public static class MotionInterlocks
{
    /// <summary>Every reason why the crosshead may not move, in words that a person can act on; empty where it may.</summary>
    public static IReadOnlyList<Sentence> ReasonsAgainst(InterlockFacts facts)
    {
        var reasons = new List<Sentence>();
        if (!facts.LinkUp)
            reasons.Add(RigText.NotConnected(facts.LinkMessage));
        else if (!facts.DeviceKnown)
            reasons.Add(RigText.DeviceNotKnown);
        else
            AddDeviceReasons(facts, reasons);
        if (facts.CheckWeight != CheckWeightVerdict.Inside)
            reasons.Add(facts.CheckWeight == CheckWeightVerdict.Outside ? RigText.CheckWeightOutside : RigText.CheckWeightUnread);
        if (!facts.CalibrationInForce && !facts.AcceptedBeyondCalibration)
            reasons.Add(RigText.NoCalibrationInForce);
        else if (!facts.CalibrationCoversForceLimit && !facts.AcceptedBeyondCalibration) reasons.Add(RigText.CalibrationTooLow);
        if (!facts.CautionsAcknowledged && !facts.Simulated) reasons.Add(RigText.CautionsNotRead);
        if (AsksForEmergencyStopTest(facts)) reasons.Add(RigText.EmergencyStopNotTested);
        return reasons;
    }

    /// <summary>Whether the emergency stop is still to be tested: where there is a motor and it is real.</summary>
    public static bool AsksForEmergencyStopTest(InterlockFacts facts) =>
        facts is { DeviceKnown: true, TurnedByHand: false, Simulated: false, EmergencyStopTested: false };

    /// <summary>The facts as hand motion sees them: it is no reason to calibrate, so the check weight does not stand against it, and it is
    /// how the emergency stop is tested.</summary>
    public static InterlockFacts ForHandMotion(InterlockFacts facts)
        => facts with { CheckWeight = CheckWeightVerdict.Inside, EmergencyStopTested = true };

    /// <summary>Every reason why a sequence may not begin or go on. An open guard is none: it is asked to be closed; nor are limits that
    /// are still to be sent, because they follow from the zero. Both stand against its motions.</summary>
    public static IReadOnlyList<Sentence> ReasonsAgainstStarting(InterlockFacts facts)
        => ReasonsAgainstPulling(facts with { GuardClosed = true, LimitsConfirmed = true });

    /// <summary>Every reason why a pull may not go on. Where a person turns the handle there is no motor and there are no limits to
    /// confirm; the rest, the cautions above all, holds as for a motor.</summary>
    public static IReadOnlyList<Sentence> ReasonsAgainstPulling(InterlockFacts facts) =>
        ReasonsAgainst(facts.TurnedByHand ? facts with { CanMove = true, LimitsConfirmed = true, EmergencyStopTested = true } : facts);

    private static void AddDeviceReasons(InterlockFacts facts, List<Sentence> reasons)
    {
        if (!facts.CanMove) reasons.Add(RigText.NoMotor);
        if (!facts.GuardClosed) reasons.Add(RigText.GuardIsOpen);
        if (!facts.EmergencyStopReleased) reasons.Add(RigText.EmergencyStopIsPressed);
        if (!facts.ConverterAlive) reasons.Add(RigText.ConverterSilent);
        if (facts.FaultWords.Count > 0) reasons.Add(RigText.Faulted(facts.FaultWords));
        if (!facts.LimitsConfirmed) reasons.Add(RigText.LimitsNotConfirmed);
    }
}
