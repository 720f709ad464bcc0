using RigDaq.Publishing.Messages;
using RigDaq.Publishing.Text;

namespace RigDaq.Publishing.Settings;

/// <summary>What is published and by which broker. Nothing here is required: the embedded broker on loopback is the default.</summary>
public sealed class PublishingOptions
{
    /// <summary>The shortest block of live force, in milliseconds.</summary>
    public const int LiveBlockMillisecondsMin = 20;

    /// <summary>The longest block of live force, in milliseconds.</summary>
    public const int LiveBlockMillisecondsMax = 50;

    /// <summary>Whether anything is published at all.</summary>
    public bool Enabled { get; set; } = true;

    /// <summary>The rig's level in every topic: 1 to 64 letters, digits, dots, dashes or underscores.</summary>
    public string RigName { get; set; } = "rig";

    /// <summary>The first level or levels of every topic.</summary>
    public string TopicRoot { get; set; } = Topics.RootDefault;

    /// <summary>How much live force one message holds, in milliseconds, 20 to 50.</summary>
    public int LiveBlockMilliseconds { get; set; } = 40;

    /// <summary>The most consumers that can be named.</summary>
    public const int ConsumersMax = 16;

    /// <summary>Those who are to have every result, each by a topic of its own; none: whoever listens first has them.</summary>
    public IReadOnlyList<string> Consumers { get; set; } = [];

    /// <summary>The broker in this process. Not used where <see cref="External"/> is set.</summary>
    public EmbeddedBrokerOptions Broker { get; set; } = new();

    /// <summary>A broker elsewhere; null for the one in this process.</summary>
    public ExternalBrokerOptions? External { get; set; }

    /// <summary>Whether the broker in this process is the one.</summary>
    public bool UsesEmbeddedBroker => Enabled && External is null;

    /// <summary>What is wrong with these options, each with its key; empty when nothing is.</summary>
    public IReadOnlyList<string> Problems()
    {
        var problems = new List<string>();
        if (!Topics.IsLevel(RigName)) problems.Add(PublishingText.NameNotPossible(RigName, Topics.LevelLengthMax));
        if (!Topics.IsRoot(TopicRoot)) problems.Add(PublishingText.TopicRootNotPossible(TopicRoot, Topics.RootLevelsMax));
        problems.AddRange(ConsumerProblems(Consumers));
        if (LiveBlockMilliseconds is < LiveBlockMillisecondsMin or > LiveBlockMillisecondsMax)
            problems.Add(PublishingText.LiveBlockNotPossible(LiveBlockMilliseconds, LiveBlockMillisecondsMin, LiveBlockMillisecondsMax));

        if (External is null) Broker.AddProblems(problems);
        else External.AddProblems(problems);
        return problems;
    }

    /// <summary>What is wrong with the names of consumers; empty when nothing is.</summary>
    public static IReadOnlyList<string> ConsumerProblems(IReadOnlyList<string> consumers)
    {
        ArgumentNullException.ThrowIfNull(consumers);
        if (consumers.Count > ConsumersMax) return [PublishingText.ConsumersTooMany(consumers.Count, ConsumersMax)];
        return [.. consumers.Where((name, i) => !Topics.IsLevel(name) || consumers.Take(i).Contains(name, StringComparer.Ordinal))
            .Select(PublishingText.ConsumerNotPossible)];
    }
}
