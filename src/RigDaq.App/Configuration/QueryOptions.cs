using RigDaq.Rig.PlainDevices;

namespace RigDaq.App.Configuration;

/// <summary>How a bench instrument is asked, as a person writes it.</summary>
internal sealed class QueryOptions
{
    /// <summary>The question, for example READ?.</summary>
    public string Query { get; set; } = "READ?";

    /// <summary>From one question to the next, in seconds, 0.005 to 10.</summary>
    public double IntervalSeconds { get; set; } = 0.1;

    /// <summary>Lines that are sent once after the port has opened.</summary>
    public string[] SetUp { get; set; } = [];

    /// <summary>Whether it is asked *IDN?.</summary>
    public bool Identify { get; set; } = true;

    /// <summary>"lf", "crlf" or "cr".</summary>
    public string LineEnding { get; set; } = "lf";

    /// <summary>How long an answer may take, in seconds.</summary>
    public double AnswerSeconds { get; set; } = 1;

    public QueryFormat? ToFormat() => LineEnding is not ("lf" or "crlf" or "cr") || !(IntervalSeconds is > 0 and < 1e6)
        || !(AnswerSeconds is > 0 and < 1e6) ? null : new QueryFormat
        {
            Query = Query,
            Interval = TimeSpan.FromSeconds(IntervalSeconds),
            SetUp = SetUp,
            Identify = Identify,
            LineEnding = LineEnding switch { "crlf" => "\r\n", "cr" => "\r", _ => "\n" },
            AnswerMax = TimeSpan.FromSeconds(AnswerSeconds),
        };
}
