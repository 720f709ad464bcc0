namespace RigDaq.Publishing.Delivery;

/// <summary>Takes one message at QoS 1 and says what became of it. A link that fails throws.</summary>
internal interface IMessageSink
{
    /// <summary>Publishes and waits for the broker's answer, at most five seconds.</summary>
    Task<PublishAnswer> PublishAsync(string topic, ReadOnlyMemory<byte> payload, bool retain, CancellationToken cancellation);
}

/// <summary>What became of a message; the reason is the broker's words where it refused.</summary>
internal readonly record struct PublishAnswer(PublishOutcome Outcome, string Reason = "");

/// <summary>What became of a message, in short.</summary>
internal enum PublishOutcome
{
    /// <summary>The broker has it and somebody listens.</summary>
    Taken,

    /// <summary>The broker has it but nobody listens: it reached no one.</summary>
    Unclaimed,

    /// <summary>The broker would not have it.</summary>
    Refused,
}
