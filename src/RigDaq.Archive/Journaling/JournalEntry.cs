using System.Text;
using System.Text.Json;
using RigDaq.Archive.Storage;
using RigDaq.Core.Callers;
using RigDaq.Core.Runs;

namespace RigDaq.Archive.Journaling;

/// <summary>What happened, so that it can be done again to an empty database.</summary>
internal enum EntryKind
{
    /// <summary>A study, new or changed.</summary>
    Study,

    /// <summary>A calibration.</summary>
    Calibration,

    /// <summary>A run's first version; its samples are in its capture.</summary>
    Run,

    /// <summary>A later version of a run: recomputed, or left out with a reason.</summary>
    Revision,

    /// <summary>Something small: weights, a check weight's reading, what befell a cell, which study is worked on.</summary>
    Note,
}

/// <summary>One line of the journal. Records stand in it as the very text that the database holds.</summary>
internal sealed record JournalEntry
{
    /// <summary>Counts the entries of a folder from 1; the database knows the last one it holds.</summary>
    public long Number { get; init; }

    public required DateTimeOffset At { get; init; }

    public required EntryKind Kind { get; init; }

    /// <summary>The record's id.</summary>
    public required string Id { get; init; }

    /// <summary>Why, in words, where a person gave a reason.</summary>
    public string Reason { get; init; } = "";

    /// <summary>By whom it was kept here; null where nobody asked for it, and where it came from elsewhere.</summary>
    public By? By { get; init; }

    /// <summary>The record as JSON.</summary>
    public required string Record { get; init; }

    /// <summary>A run's pull as JSON, without samples.</summary>
    public string? Pull { get; init; }

    /// <summary>How many samples the run's trace has.</summary>
    public int Samples { get; init; }

    /// <summary>The checksum of the trace's columns, so that a rebuilt trace is known to be the same.</summary>
    public uint TraceChecksum { get; init; }

    /// <summary>
    /// The number of the last of the entries that were kept together with this one, all or none; null where it was kept alone. What was cut
    /// off before that number was not kept at all.
    /// </summary>
    public long? Batch { get; init; }

    /// <summary>What waited to be published because of it.</summary>
    public IReadOnlyList<OutboxMessage> Messages { get; init; } = [];

    public byte[] ToUtf8()
    {
        using var text = new MemoryStream();
        using (var writer = new Utf8JsonWriter(text, new JsonWriterOptions { Encoder = RecordText.Options.Encoder }))
        {
            writer.WriteStartObject();
            writer.WriteNumber("number", Number);
            writer.WriteString("at", At);
            writer.WriteString("kind", Kind.ToString());
            writer.WriteString("id", Id);
            writer.WriteString("reason", Reason);
            if (By is not null) Raw(writer, "by", RecordText.Of(By));
            Raw(writer, "record", Record);
            if (Pull is not null)
            {
                Raw(writer, "pull", Pull);
                writer.WriteNumber("samples", Samples);
                writer.WriteNumber("traceChecksum", TraceChecksum);
            }

            if (Batch is { } batch) writer.WriteNumber("batch", batch);
            if (Messages.Count > 0) Raw(writer, "messages", RecordText.Of(Messages));
            writer.WriteEndObject();
        }

        return text.ToArray();
    }

    /// <exception cref="JsonException">The line is not an entry.</exception>
    public static JournalEntry Read(ReadOnlySpan<byte> utf8)
    {
        using JsonDocument document = JsonDocument.Parse(Encoding.UTF8.GetString(utf8));
        JsonElement entry = document.RootElement;
        try
        {
            return new JournalEntry
            {
                Number = entry.GetProperty("number").GetInt64(),
                At = entry.GetProperty("at").GetDateTimeOffset(),
                Kind = Enum.Parse<EntryKind>(entry.GetProperty("kind").GetString()!),
                Id = entry.GetProperty("id").GetString()!,
                Reason = entry.GetProperty("reason").GetString()!,
                By = entry.TryGetProperty("by", out JsonElement by) ? RecordText.Read<By>(by.GetRawText()) : null,
                Record = entry.GetProperty("record").GetRawText(),
                Pull = entry.TryGetProperty("pull", out JsonElement pull) ? pull.GetRawText() : null,
                Samples = entry.TryGetProperty("samples", out JsonElement samples) ? samples.GetInt32() : 0,
                TraceChecksum = entry.TryGetProperty("traceChecksum", out JsonElement checksum) ? checksum.GetUInt32() : 0,
                Batch = entry.TryGetProperty("batch", out JsonElement batch) ? batch.GetInt64() : null,
                Messages = entry.TryGetProperty("messages", out JsonElement messages)
                    ? RecordText.Read<OutboxMessage[]>(messages.GetRawText())
                    : [],
            };
        }
        catch (Exception e) when (e is KeyNotFoundException or InvalidOperationException or FormatException or ArgumentException)
        {
            throw new JsonException("The line is no entry of the journal.", e);
        }
    }

    private static void Raw(Utf8JsonWriter writer, string name, string json)
    {
        writer.WritePropertyName(name);
        writer.WriteRawValue(json);
    }
}
