using System.Globalization;

namespace RigDaq.App.Text;

/// <content>The running daemon: the command, and what it says while it runs.</content>
internal static partial class AppText
{
    public const string ServeNoPort = "No port of this machine's loopback address can be had: close programs that hold many connections.";

    public static string ServePullCutShort(string specimen, DateTimeOffset startedAt, int samples, string ending) =>
        $"Specimen {specimen}: its pull of {startedAt:u} was cut short; {samples} samples are kept, stored as {ending}.";

    public static string ServePullNotStored(string specimen, DateTimeOffset startedAt, string why) =>
        $"Specimen {specimen}: its pull of {startedAt:u} could not be stored: {why} Its capture is kept, and it is tried again at the next start.";

    public static string ServePullSetAside(string specimen, DateTimeOffset startedAt, string why, string file) =>
        $"Specimen {specimen}: no run can be computed from its pull of {startedAt:u}: {why} Its capture is kept as '{file}'; 'rigdaq rebuild' tries it again.";

    public static string ServeCapturesNotRead(string why) =>
        $"What the last session left unfinished could not be looked for: {why} It is tried again at the next start.";

    /// <summary>Kept with a study: why it was changed.</summary>
    public const string ServePlanFrozen = "the first pull froze the plan";

    /// <summary>Kept with a device: why its calibration ended.</summary>
    public static string ServeOverload(string specimen, double newtons, double fullScaleNewtons) =>
        string.Create(CultureInfo.InvariantCulture, $"specimen {specimen} loaded it with {newtons:0} N, its full scale is {fullScaleNewtons:0} N");
}
