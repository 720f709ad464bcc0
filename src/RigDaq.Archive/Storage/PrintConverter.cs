using System.Text.Json;
using System.Text.Json.Serialization;
using RigDaq.Archive.Text;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive.Storage;

/// <summary>
/// Prints as text. Before schema 2 a print belonged to one group, setting included; such a print is read as one of a single stretch, so
/// that journals and packages of before, which are never rewritten, can be read for ever.
/// </summary>
internal sealed class PrintConverter : JsonConverter<Print>
{
    public override Print Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        Kept kept = JsonSerializer.Deserialize<Kept>(ref reader, options)
            ?? throw new JsonException(ArchiveText.RecordEmpty(nameof(Print)));
        return kept.Group is { } group
            ? Print.Of(kept.Id, group) with { Record = kept.Record }
            : new Print
            {
                Id = kept.Id,
                Material = kept.Material ?? throw new JsonException(ArchiveText.PrintIncomplete(kept.Id)),
                Condition = kept.Condition ?? throw new JsonException(ArchiveText.PrintIncomplete(kept.Id)),
                Stretches = kept.Stretches ?? throw new JsonException(ArchiveText.PrintIncomplete(kept.Id)),
                Record = kept.Record,
            };
    }

    public override void Write(Utf8JsonWriter writer, Print value, JsonSerializerOptions options) => JsonSerializer.Serialize(
        writer, new Kept
        {
            Id = value.Id,
            Material = value.Material,
            Condition = value.Condition,
            Stretches = value.Stretches,
            Record = value.Record
        }, options);

    /// <summary>The study with each specimen in a stretch: before schema 2 its print said the setting.</summary>
    public static Study Place(Study study)
    {
        Dictionary<string, decimal?> only = study.Prints.Where(print => print.Stretches is [{ Setting: not null }])
            .DistinctBy(print => print.Id)
            .ToDictionary(print => print.Id, print => print.Stretches[0].Setting);
        return study.Specimens.Any(Unplaced) ? study with
        {
            Specimens = [.. study.Specimens.Select(specimen => Unplaced(specimen) ? specimen with { Setting = only[specimen.PrintId] }
                : specimen)],
        } : study;

        bool Unplaced(Specimen specimen) => specimen.Setting is null && only.ContainsKey(specimen.PrintId);
    }

    /// <summary>A print of this version or of the one before.</summary>
    private sealed record Kept
    {
        public required string Id { get; init; }

        public string? Material { get; init; }

        public string? Condition { get; init; }

        public IReadOnlyList<Stretch>? Stretches { get; init; }

        /// <summary>Before schema 2.</summary>
        public GroupKey? Group { get; init; }

        public PrintRecord? Record { get; init; }
    }
}
