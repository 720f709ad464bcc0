using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.PlainDevices;

/// <summary>How a bench instrument is asked: program messages as IEEE 488.2 has them, over a serial line. What it answers is read by a
/// <see cref="LineFormat"/>.</summary>
public sealed record QueryFormat
{
    /// <summary>The question for its identity that every IEEE 488.2 instrument answers.</summary>
    public const string IdentityQuery = "*IDN?";

    /// <summary>The most set-up lines.</summary>
    public const int SetUpMax = 64;

    /// <summary>The shortest interval.</summary>
    public static TimeSpan IntervalMin { get; } = TimeSpan.FromMilliseconds(5);

    /// <summary>The longest interval.</summary>
    public static TimeSpan IntervalMax { get; } = TimeSpan.FromSeconds(10);

    /// <summary>The question that is answered with a reading, for example <c>READ?</c>.</summary>
    public required string Query { get; init; }

    /// <summary>From one question to the next; never before the answer has come or was given up.</summary>
    public TimeSpan Interval { get; init; } = TimeSpan.FromMilliseconds(100);

    /// <summary>What is sent once after the port has opened, a line each.</summary>
    public IReadOnlyList<string> SetUp { get; init; } = [];

    /// <summary>Whether it is asked who it is; its calibration is then found by that.</summary>
    public bool Identify { get; init; } = true;

    /// <summary>What ends a line that is sent: a line feed by IEEE 488.2, some instruments want CR LF or CR.</summary>
    public string LineEnding { get; init; } = "\n";

    /// <summary>How long an answer may take.</summary>
    public TimeSpan AnswerMax { get; init; } = TimeSpan.FromSeconds(1);

    /// <summary>What is wrong with it, each in words; empty where nothing is.</summary>
    public IReadOnlyList<Sentence> Problems()
    {
        var problems = new List<Sentence>();
        if (!IsLine(Query)) problems.Add(RigText.QueryNoLine);
        if (Interval < IntervalMin || Interval > IntervalMax)
            problems.Add(RigText.IntervalOutside(IntervalMin.TotalSeconds, IntervalMax.TotalSeconds, Interval.TotalSeconds));

        if (AnswerMax <= TimeSpan.Zero || AnswerMax > IntervalMax) problems.Add(RigText.AnswerTooLong(IntervalMax.TotalSeconds));
        if (SetUp.Count > SetUpMax || !SetUp.All(IsLine)) problems.Add(RigText.SetUpTooLong(SetUpMax));
        if (LineEnding is not ("\n" or "\r\n" or "\r")) problems.Add(RigText.LineEndingUnknown);
        return problems;
    }

    private static bool IsLine(string? line) =>
        !string.IsNullOrWhiteSpace(line) && line.Length <= LineCutter.LineBytesMax && line.All(c => c is >= ' ' and <= '~');
}
