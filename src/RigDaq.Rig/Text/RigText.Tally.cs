namespace RigDaq.Rig.Text;

/// <content>What a person should know of a device’s lines.</content>
internal static partial class RigText
{
    public static string LastDropped(string line, string why) => $"the last one, “{line}”: {why}";

    public static string NothingYet(bool isAsked) => isAsked
        ? $"Nothing has been answered yet: {RemedyOfAsked}."
        : $"Nothing has been printed yet: {RemedyOfPrinting}.";

    public static string NoReadingFor(double seconds, bool isAsked) => isAsked
        ? FormattableString.Invariant($"No reading has been answered for {seconds:0.#} s: {RemedyOfAsked}.")
        : FormattableString.Invariant($"No reading has been printed for {seconds:0.#} s: {RemedyOfPrinting}.");

    private const string RemedyOfAsked = "check its power and cable, the baud rate, the line ending and the query";
    private const string RemedyOfPrinting = "check its power and cable, the port and the baud rate";

    public static string BytesWithoutEnd(long bytes) =>
        FormattableString.Invariant($"{bytes} bytes arrived without a line end: the baud rate differs, or the device does not print lines.");

    public static string NoLineUnderstood(long lines) =>
        FormattableString.Invariant($"None of {lines} lines was understood: the line format or the baud rate differs; rigdaq check proposes a format.");

    public static string LinesNoText(long noText, long lines) =>
        FormattableString.Invariant($"{noText} of {lines} lines are no text: the baud rate differs, or the device does not print lines.");

    public static string LinesDropped(long dropped, long lines, string last) =>
        FormattableString.Invariant($"{dropped} of {lines} lines were not understood, each counts as a lost sample; {last}.");

    public static string ReadingsBeyondRange(long readings) =>
        FormattableString.Invariant($"{readings} readings did not fit into 24 bits and stand at the end of the range: set fewer counts per unit.");

    public static string QuestionsUnanswered(long questions) =>
        FormattableString.Invariant($"{questions} questions were not answered in time: ask less often, or look at the instrument.");

    public static string AnswersLate(long answers) => FormattableString.Invariant($"{answers} answers came late or unasked and were left out.");
}
