namespace RigDaq.Publishing.Messages;

/// <summary>Where each message goes. There is no topic that anyone could send a command to.</summary>
public sealed class Topics
{
    /// <summary>The first level of every topic where no other is set; in the embedded broker nobody else may publish below it.</summary>
    public const string RootDefault = "rigdaq";

    /// <summary>The most levels of a root.</summary>
    public const int RootLevelsMax = 8;

    /// <summary>The longest level.</summary>
    public const int LevelLengthMax = 64;

    /// <summary>How the topic of every rig's state ends.</summary>
    internal const string StateEnd = "/state";

    /// <summary>How the topic of every rig's live force ends.</summary>
    internal const string LiveEnd = "/live";

    private readonly string _base;

    /// <summary>The topics of a rig.</summary>
    /// <param name="rigName">One level: see <see cref="IsLevel"/>.</param>
    /// <param name="root">What stands before it: see <see cref="IsRoot"/>.</param>
    /// <exception cref="ArgumentException">Either cannot be in a topic.</exception>
    public Topics(string rigName, string root = RootDefault)
    {
        if (!IsLevel(rigName)) throw new ArgumentException($"\"{rigName}\" cannot be a level of a topic.", nameof(rigName));
        if (!IsRoot(root)) throw new ArgumentException($"\"{root}\" cannot be the first levels of a topic.", nameof(root));
        _base = $"{root}/{rigName}/";
        State = _base + "state";
        Live = _base + "live";
        Alarms = _base + "alarms";
    }

    /// <summary>The state, retained.</summary>
    public string State { get; }

    /// <summary>Live force.</summary>
    public string Live { get; }

    /// <summary>What a person should look at now.</summary>
    public string Alarms { get; }

    /// <summary>Where <c>rigdaq check</c> tries whether it may publish.</summary>
    public string Check => _base + "check";

    /// <summary>Where a consumer that is named in the configuration gets a message of its own, below this rig's root.</summary>
    internal static string ToConsumer(string consumer, string relative) => $"consumers/{consumer}/{relative}";

    /// <summary>A topic below this rig's root.</summary>
    public string Below(string relative) => _base + relative;

    /// <summary>Whether a text can be one level of a topic here.</summary>
    public static bool IsLevel(string text) =>
        text.Length is > 0 and <= LevelLengthMax && text.All(c => char.IsAsciiLetterOrDigit(c) || c is '.' or '-' or '_');

    /// <summary>Whether a text can be the first levels of every topic.</summary>
    public static bool IsRoot(string text) => text.Split('/') is { Length: <= RootLevelsMax } levels && levels.All(IsLevel);

    /// <summary>Whether a topic lies at or below a root, whichever rig's it is.</summary>
    public static bool IsBelow(string root, string topic) =>
        topic.StartsWith(root, StringComparison.Ordinal) && (topic.Length == root.Length || topic[root.Length] == '/');
}
