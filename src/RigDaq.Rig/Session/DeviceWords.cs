using RigDaq.Protocol.Messages;

namespace RigDaq.Rig.Session;

/// <summary>What a device's bits and answers mean, in words that a person can act on.</summary>
internal static class DeviceWords
{
    private static readonly (DeviceFaults Fault, string Words)[] Faults =
    [
        (DeviceFaults.EmergencyStop, "the emergency stop was pressed"),
        (DeviceFaults.GuardOpened, "the guard was opened during motion"),
        (DeviceFaults.ForceLimit, "the force left its limits"),
        (DeviceFaults.TravelLimit, "the crosshead reached a travel limit"),
        (DeviceFaults.TimeLimit, "a motion lasted longer than its limit"),
        (DeviceFaults.KeepAliveLost, "the computer's keep-alive stayed away"),
        (DeviceFaults.Converter, "the converter delivers nothing or stands at its end stop (check the load cell's wiring)"),
        (DeviceFaults.Driver, "the motor driver reports a fault"),
        (DeviceFaults.Watchdog, "it restarted by its own watchdog"),
    ];

    private static readonly int KnownBits = Faults.Aggregate(0, (bits, f) => bits | (int)f.Fault);

    /// <summary>Each latched fault in words.</summary>
    public static IReadOnlyList<string> Of(DeviceFaults faults)
    {
        if (faults == DeviceFaults.None) return [];
        List<string> words = [.. Faults.Where(f => faults.HasFlag(f.Fault)).Select(f => f.Words)];
        int unknown = (int)faults & ~KnownBits;
        if (unknown != 0) words.Add($"a fault of a newer kind (bits 0x{unknown:X})");
        return words;
    }

    /// <summary>Why a command was not done.</summary>
    public static string Of(AnswerResult result) => result switch
    {
        AnswerResult.Done => "done",
        AnswerResult.UnknownType => "the device does not know this command: its firmware is older than this program",
        AnswerResult.BadValue => "the device found a value out of range",
        AnswerResult.WrongBoot => "the device has restarted meanwhile",
        AnswerResult.WrongLimits => "the device holds other limits than those relied on",
        AnswerResult.Faulted => "the device has stopped itself: clear its fault first",
        AnswerResult.GuardOpen => "the guard is open: close it",
        AnswerResult.EmergencyStopPressed => "the emergency stop is pressed: release it when it is safe",
        AnswerResult.NoKeepAlive => "no keep-alive has reached the device in time",
        AnswerResult.Busy => "something else is in motion",
        AnswerResult.NotCapable => "the device cannot do that",
        AnswerResult.OutsideLimits => "that lies outside the limits",
        AnswerResult.NotHomed => "the home position is not known: home first",
        AnswerResult.Superseded => "a newer command overtook it",
        _ => $"the device refused with a result of a newer kind ({(int)result})",
    };
}
