using System.Globalization;

namespace RigDaq.Rig.Text;

/// <content>What is wrong with how an instrument is asked.</content>
internal static partial class RigText
{
    public const string QueryNoLine = "the query is a line of printable characters, for example READ?";

    public static string IntervalOutside(double secondsMin, double secondsMax, double seconds) =>
        string.Create(CultureInfo.InvariantCulture, $"the interval is {secondsMin} to {secondsMax} s, not {seconds} s");

    public static string AnswerTooLong(double secondsMax) => $"an answer may take up to {secondsMax} s";

    public static string SetUpTooLong(int linesMax) => $"the set-up has up to {linesMax} lines of printable characters";

    public const string LineEndingUnknown = "a line ends with LF, CR LF or CR";
    public const string DeviceNeedsName = "the device needs a name";

    public static string InstrumentSilent(string link, string query) => $"The instrument at {link} does not answer {query}: check its power and cable, the baud rate and the line ending; "
        + "where it knows no such query, switch the question for its identity off and give it a name.";
}
