using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Trace;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;

namespace RigDaq.Rig.Text;

/// <summary>What chooses among texts of this room, and how their figures are written. What they say stands in <c>en.json</c>.</summary>
internal static partial class RigText
{
    // What the line can carry, and channels.

    public static string ChannelNotDescribed(int channel) =>
        ChannelNotDescribedText(channel, 1);

    // Why a device is not known.

    public static string OtherVersion(string link, byte major, byte minor, byte ours)
        => OtherVersionText(link, major, minor, ours, major > ours);

    // The cautions, and what stands against motion.

    public static string NotConnected(string why) => NotConnectedText(why.Length > 0, why);

    // Limits that a device does not take.

    public static string NoCompressionLimit(double newtons) => NoCompressionLimitText(-newtons);

    public static string StopEndsTooFar(
        string what, double millimetresPerSecond, double limitNewtons, double furtherNewtons, double bearableNewtons,
            double speedThatWouldDo,
        double newtonsPerMillimetre, double hertz) => StopEndsTooFarText(newtonsPerMillimetre, what, millimetresPerSecond, furtherNewtons,
            limitNewtons, hertz, bearableNewtons, speedThatWouldDo > 0.0005
            ? StopEndsTooFarPartText(Math.Floor(speedThatWouldDo * 1000) / 1000) : StopEndsTooFarPartText2);

    // A line format in words, and what is wrong with one.

    public static string Format(string columns, int forceColumn, string quantity, double countsPerUnit, string time) =>
        FormatText(columns, forceColumn, quantity, Resolution(countsPerUnit), time);

    public static string Separator(char? separator) => separator switch
    {
        null => SeparatorNullText,
        ',' => SeparatorOtherText,
        ';' => SeparatorOtherText2,
        '\t' => SeparatorTText,
        { } other => $"“{other}”",
    };

    public static string AnyColumnsBetween(char? separator) => AnyColumnsBetweenText(Separator(separator));

    private static string Resolution(double countsPerUnit) =>
        ResolutionText(countsPerUnit.Equals(1), countsPerUnit);

    // Why a line format is proposed, and what to look at before it is used.

    public static string ColumnsBetween(int columns, char? separator) => ColumnsBetweenText(columns, Separator(separator));

    public static string CouldAllBeForce(IEnumerable<int> columns) => CouldAllBeForceText(string.Join(", ", columns));

    // How a link stands and why it ended.

    public static string IsOpen(string link, string lastTime) =>
        IsOpenText(link, lastTime.Length > 0, lastTime);

    // From the capture to the stored run.

    public static string TurnBack(string specimen, PullEnding ending, string reason) => TurnBackText(specimen, ending.Word(), reason);

    public static string StoredAs(string specimen, PullEnding? ending) =>
        StoredAsText(specimen, ending?.Word());
}
