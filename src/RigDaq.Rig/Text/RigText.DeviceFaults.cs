namespace RigDaq.Rig.Text;

/// <content>The faults that a device latches.</content>
internal static partial class RigText
{
    public const string FaultEmergencyStop = "the emergency stop was pressed";
    public const string FaultGuardOpened = "the guard was opened during motion";
    public const string FaultForceLimit = "the force left its limits";
    public const string FaultTravelLimit = "the crosshead reached a travel limit";
    public const string FaultTimeLimit = "a motion lasted longer than its limit";
    public const string FaultKeepAlive = "the computer's keep-alive stayed away";
    public const string FaultConverter = "the converter delivers nothing, stands at its end stop, or gives what cannot be: the same again and again, too early or too late (check the load cell's and the converter's wiring, supply and rate)";
    public const string FaultDriver = "the motor driver reports a fault";
    public const string FaultWatchdog = "it restarted by its own watchdog";

    public const string StartedByWatchdog = "its program had hung (its watchdog)";
    public const string StartedByPower = "its power came on";
    public const string StartedByBrownOut = "its supply had sagged (look at the supply and its plug)";
    public const string StartedByResetPin = "its reset pin (a button, or the opening of its serial port)";
    public const string StartedUntold = "with the power on, it does not know by what";
    public const string StartedHeld = "its program hung three times in a row: it stands until it is switched off; look for the cause before";

    public static string FaultOfNewerKind(int bits) => $"a fault of a newer kind (bits 0x{bits:X})";
}
