namespace RigDaq.Rig.Interlocks;

/// <summary>Whether the crosshead may move. One pure function, asked before every motion command.</summary>
public static class MotionInterlocks
{
    /// <summary>Every reason why the crosshead may not move, in words that a person can act on; empty where it may.</summary>
    public static IReadOnlyList<string> ReasonsAgainst(InterlockFacts facts)
    {
        var reasons = new List<string>();
        if (!facts.LinkUp)
            reasons.Add("The device is not connected: " + (facts.LinkMessage.Length > 0 ? facts.LinkMessage : "check its cable and power."));
        else if (!facts.DeviceKnown)
            reasons.Add("The device has not said what it is yet: wait a moment; if it stays so, check its firmware and the baud rate.");
        else
            AddDeviceReasons(facts, reasons);
        if (facts.CheckWeightOutside)
            reasons.Add("The check weight reads outside its limits: calibrate anew, or find out what changed and read it again.");
        if (!facts.CalibrationInForce && !facts.AcceptedBeyondCalibration)
            reasons.Add("No calibration is in force for this device: calibrate it, or accept for this sequence that forces are not known.");
        else if (!facts.CalibrationCoversForceLimit && !facts.AcceptedBeyondCalibration)
            reasons.Add("The calibration does not reach the force limit: lower the limit, calibrate further, or accept that it is extrapolated.");
        if (!facts.CautionsAcknowledged && !facts.Simulated)
            reasons.Add("The cautions have not been acknowledged: read and acknowledge them.");
        return reasons;
    }

    /// <summary>
    /// Every reason why a pull may not go on. Where a person turns the handle there is no motor and there are no limits to confirm;
    /// the rest, the cautions above all, holds as for a motor.
    /// </summary>
    public static IReadOnlyList<string> ReasonsAgainstPulling(InterlockFacts facts) =>
        ReasonsAgainst(facts.TurnedByHand ? facts with { CanMove = true, LimitsConfirmed = true } : facts);

    private static void AddDeviceReasons(InterlockFacts facts, List<string> reasons)
    {
        if (!facts.CanMove) reasons.Add("This device only measures: it has no motor.");
        if (!facts.GuardClosed) reasons.Add("The guard is open: close it.");
        if (!facts.EmergencyStopReleased) reasons.Add("The emergency stop is pressed: make sure that it is safe, then release it.");
        if (!facts.ConverterAlive) reasons.Add("The converter delivers no fresh readings: check the load cell's amplifier and its wiring.");
        if (facts.FaultWords.Count > 0)
            reasons.Add($"The device has stopped itself: {string.Join("; ", facts.FaultWords)}. Remove the cause, then clear the fault.");
        if (!facts.LimitsConfirmed) reasons.Add("The device has not confirmed its limits yet: wait a moment; if it stays so, look at the settings' limits.");
    }
}
