namespace RigDaq.Core.Specimens;

/// <summary>One printed piece: one material in one condition, with a stretch at one setting or several. Specimens are cut from a
/// stretch.</summary>
public sealed record Print
{
    /// <summary>Unique in the study.</summary>
    public required string Id { get; init; }

    /// <summary>For example the filament's name.</summary>
    public required string Material { get; init; }

    /// <summary>Any label: as left in humid air, dried, fan off.</summary>
    public required string Condition { get; init; }

    /// <summary>Its stretches in their order along the print, from the print bed; one or more, each at another setting.</summary>
    public required IReadOnlyList<Stretch> Stretches { get; init; }

    /// <summary>How it came to be; null where nothing was noted.</summary>
    public PrintRecord? Record { get; init; }

    /// <summary>A print of one stretch, all of it in one group.</summary>
    /// <param name="id">Unique in the study.</param>
    /// <param name="group">The group.</param>
    public static Print Of(string id, GroupKey group) =>
        new() { Id = id, Material = group.Material, Condition = group.Condition, Stretches = [new Stretch { Setting = group.Setting }] };

    /// <summary>The group of its stretch at a setting.</summary>
    public GroupKey GroupAt(decimal? setting) => new(Material, Condition, setting);

    /// <summary>The groups of its stretches, in their order along the print.</summary>
    public IEnumerable<GroupKey> Groups() => Stretches.Select(stretch => GroupAt(stretch.Setting));

    /// <summary>The print in words, with its settings rising: "Alder, fan off, 220, 240 °C".</summary>
    /// <param name="unit">The setting's unit; empty where there is none.</param>
    public string Describe(string unit)
    {
        decimal[] settings = [.. Stretches.Select(stretch => stretch.Setting).OfType<decimal>().Order()];
        if (settings.Length == 0) return GroupAt(null).Describe(unit);
        return string.Join(", ", settings[..^1].Select(setting => GroupKey.SettingText(setting, "")).Prepend(GroupAt(null).Describe(""))
            .Append(GroupKey.SettingText(settings[^1], unit)));
    }

    /// <summary>Its stretch at a setting; null where it has none.</summary>
    public Stretch? At(decimal? setting) => Stretches.FirstOrDefault(stretch => stretch.Setting == setting);
}

/// <summary>A part of a print that was printed at one setting.</summary>
public sealed record Stretch
{
    /// <summary>The setting; null where the study has none.</summary>
    public decimal? Setting { get; init; }

    /// <summary>That it could not be printed, and why; null where it was, or is to be. A result like a strength, not a gap.</summary>
    public PrintFailure? Failure { get; init; }
}

/// <summary>A stretch that could not be printed.</summary>
/// <param name="Reason">In words: "layers parted while printing".</param>
/// <param name="Tries">How many times it was tried, 1 or more.</param>
/// <param name="PhotoName">The name under which a photo of it is kept; null without one.</param>
/// <param name="PhotoSha256">The photo's SHA-256; null without one.</param>
public sealed record PrintFailure(string Reason, int Tries, string? PhotoName = null, string? PhotoSha256 = null)
{
    /// <summary>What tables write in their column outcome.</summary>
    public const string Word = "could not be printed";
}
