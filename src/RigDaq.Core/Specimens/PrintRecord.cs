namespace RigDaq.Core.Specimens;

/// <summary>How a print came to be: storage, drying, chamber, printer settings. Whatever was not noted is null or absent.</summary>
public sealed record PrintRecord
{
    /// <summary>Spells of storage of the filament before printing and of the print after it, in their order.</summary>
    public IReadOnlyList<StorageSpell> Storage { get; init; } = [];

    /// <summary>Spells of drying, in their order.</summary>
    public IReadOnlyList<DryingSpell> Drying { get; init; } = [];

    /// <summary>Where the spool stood while it was printed from.</summary>
    public StorageSpell? WhilePrinting { get; init; }

    /// <summary>The air round the print, in °C.</summary>
    public double? ChamberTemperatureCelsius { get; init; }

    /// <summary>Settings of the printer, as free pairs.</summary>
    public IReadOnlyList<PrinterSetting> PrinterSettings { get; init; } = [];

    /// <summary>Anything else.</summary>
    public string Notes { get; init; } = "";
}

/// <summary>A spell of storage.</summary>
/// <param name="Place">In words: "open shelf", "bag with desiccant".</param>
/// <param name="TemperatureCelsius">In °C.</param>
/// <param name="RelativeHumidityPercent">0 to 100.</param>
/// <param name="Hours">0 or more.</param>
public sealed record StorageSpell(string Place, double? TemperatureCelsius, double? RelativeHumidityPercent, double? Hours);

/// <summary>A spell in a dryer. Its hottest spot can lie well above what is set: the measured temperature is what the material
/// felt.</summary>
public sealed record DryingSpell
{
    /// <summary>What the dryer was set to, in °C.</summary>
    public double? SetTemperatureCelsius { get; init; }

    /// <summary>What a thermometer beside the spool showed, in °C.</summary>
    public double? MeasuredTemperatureCelsius { get; init; }

    /// <summary>How long, in hours.</summary>
    public double? Hours { get; init; }

    /// <summary>Mass m₁ before, in grams.</summary>
    public double? MassBeforeGrams { get; init; }

    /// <summary>Mass m₂ after, in grams.</summary>
    public double? MassAfterGrams { get; init; }

    /// <summary>What was in it and left, 100·(m₁ − m₂)/m₂ per cent of the dry mass; null where a mass is missing or not above 0.</summary>
    public double? UptakePercent => MassBeforeGrams is > 0 and { } before && MassAfterGrams is > 0 and { } after ? 100 * (before - after)
        / after : null;
}

/// <summary>One setting of the printer: "layer height", "0.2 mm".</summary>
/// <param name="Name">What.</param>
/// <param name="Value">With its unit.</param>
public sealed record PrinterSetting(string Name, string Value);
