using System.Text.Json.Serialization;
using RigDaq.Core;
using RigDaq.Core.Specimens;

namespace RigDaq.App.Studies;

/// <summary>How prints came to be, as a page sends it.</summary>
internal sealed record PrintRecordRequest : IStudyRequest
{
    [JsonIgnore]
    public string Study { get; set; } = "";

    /// <summary>The prints it holds for, one a line.</summary>
    public string Prints { get; set; } = "";

    public IReadOnlyList<StorageRequest> Storage { get; set; } = [];

    public IReadOnlyList<DryingRequest> Drying { get; set; } = [];

    public StorageRequest WhilePrinting { get; set; } = new();

    public double? ChamberTemperatureCelsius { get; set; }

    /// <summary>Settings of the printer, one a line: name = value.</summary>
    public string PrinterSettings { get; set; } = "";

    public string Notes { get; set; } = "";

    /// <summary>The person was asked whether a record is to be taken away, and stays with it.</summary>
    public bool Sure { get; set; }

    internal IReadOnlyList<string> PrintIds => [.. TextLines.Of(Prints).Distinct()];

    /// <summary>The record; null where nothing was entered. Rows that were left empty are no spells.</summary>
    /// <exception cref="RefusalException">A line of the printer's settings is no pair.</exception>
    internal PrintRecord? ToRecord()
    {
        var record = new PrintRecord
        {
            Storage = [.. Storage.Select(spell => spell?.ToSpell()).OfType<StorageSpell>()],
            Drying = [.. Drying.Select(spell => spell?.ToSpell()).OfType<DryingSpell>()],
            WhilePrinting = WhilePrinting.ToSpell(),
            ChamberTemperatureCelsius = ChamberTemperatureCelsius,
            PrinterSettings = [.. TextLines.Of(PrinterSettings).Select(Setting)],
            Notes = Notes.Trim(),
        };
        bool isEmpty = record is
        {
            Storage.Count: 0, Drying.Count: 0, WhilePrinting: null, ChamberTemperatureCelsius: null,
            PrinterSettings.Count: 0, Notes.Length: 0
        };
        return isEmpty ? null : record;
    }

    private static PrinterSetting Setting(string line) => TextLines.Pair(line) is ({ Length: > 0 } name, { Length: > 0 } value)
        ? new PrinterSetting(name, value)
        : throw Refusal.Of("answers.settingIsNoPair", ("line", line));
}

/// <summary>A spell of storage as it is entered.</summary>
internal sealed record StorageRequest : IPageRequest
{
    public string Place { get; set; } = "";

    public double? TemperatureCelsius { get; set; }

    public double? RelativeHumidityPercent { get; set; }

    public double? Hours { get; set; }

    internal StorageSpell? ToSpell() => Place.Trim().Length == 0 && (TemperatureCelsius ?? RelativeHumidityPercent ?? Hours) is null ? null
        : new(Place.Trim(), TemperatureCelsius, RelativeHumidityPercent, Hours);
}

/// <summary>A spell in a dryer as it is entered.</summary>
internal sealed record DryingRequest : IPageRequest
{
    public double? SetTemperatureCelsius { get; set; }

    public double? MeasuredTemperatureCelsius { get; set; }

    public double? Hours { get; set; }

    public double? MassBeforeGrams { get; set; }

    public double? MassAfterGrams { get; set; }

    internal DryingSpell? ToSpell() => (SetTemperatureCelsius ?? MeasuredTemperatureCelsius ?? Hours ?? MassBeforeGrams ?? MassAfterGrams)
        is null ? null : new DryingSpell
        {
            SetTemperatureCelsius = SetTemperatureCelsius,
            MeasuredTemperatureCelsius = MeasuredTemperatureCelsius,
            Hours = Hours,
            MassBeforeGrams = MassBeforeGrams,
            MassAfterGrams = MassAfterGrams,
        };
}

/// <summary>Lists that a person types, one a line.</summary>
internal static class TextLines
{
    internal static IReadOnlyList<string> Of(string text) =>
        text.Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);

    /// <summary>What stands before and behind the first equals sign; the second is empty where there is none.</summary>
    internal static (string Left, string Right) Pair(string line)
    {
        int equals = line.IndexOf('=', StringComparison.Ordinal);
        return equals < 0 ? (line.Trim(), "") : (line[..equals].Trim(), line[(equals + 1)..].Trim());
    }
}
