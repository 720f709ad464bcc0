namespace RigDaq.App.Text;

/// <content>A pull on a stiff bar: why it cannot be done, and why it was stopped.</content>
internal static partial class AppText
{
    public const string BarNoPosition = "The device tells no position of its crosshead: the give cannot be measured here. Record a trace with position_mm by other means and use rigdaq compliance fit.";
    public const string BarRigEnded = "the rig ended.";
    public const string BarNotKnown = "force or position is not known any more.";
    public const string BarDeviceStartedAnew = "the device started anew: it does not know where its crosshead stands.";
    public const string BarStand = "the crosshead to stand";

    public static string BarSlid(double newtons) => $"the force fell from {newtons:0} N: the bar slid. Tighten the grips.";

    public static string BarWentTooFar(double millimetres, double newtons) =>
        FormattableString.Invariant($"the crosshead went {millimetres:0.##} mm and the force stands at {newtons:0.#} N only: is the bar in both grips?");

    public static string BarTookTooLong(double seconds) => $"it took longer than {seconds:0} s.";

    public static string BarNoSample(double seconds) => $"no sample came for {seconds:0} s.";

    public static string BarDeviceStopped(IEnumerable<string> faults) => $"the device stopped by itself: {string.Join("; ", faults)}.";

    public static string BarPullStopped(string why) => $"The pull on the bar was stopped: {why}";

    public static string BarUnloadingStopped(string why) => $"Unloading the bar was stopped: {why}";
}
