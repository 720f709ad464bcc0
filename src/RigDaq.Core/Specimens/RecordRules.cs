using System.Globalization;

namespace RigDaq.Core.Specimens;

/// <summary>Checks of the conditioning and printing records that speak up before a comparison is believed.</summary>
public static class RecordRules
{
    /// <summary>How far a dryer may be above what it is set to without a word, in °C.</summary>
    public const double DryerExcessCelsiusMax = 5;

    /// <summary>Everything that is impossible, dangerous to the material or missing.</summary>
    public static IReadOnlyList<StudyFinding> Check(Study study)
    {
        var findings = new List<StudyFinding>();
        Dictionary<string, string> plastics = study.Materials.DistinctBy(m => m.Name).ToDictionary(m => m.Name, m => m.Plastic);
        foreach (Print print in study.Prints)
        {
            if (print.Record is not { } record) continue;
            foreach (StorageSpell spell in record.Storage.Concat(record.WhilePrinting is { } spool ? [spool] : [])) CheckStorage(print.Id, spell, findings);
            if (record.ChamberTemperatureCelsius is { } chamber && !IsTemperature(chamber)) Refuse(findings, $"Print {print.Id}: a chamber of {Say(chamber)} °C is not possible.");
            foreach (DryingSpell spell in record.Drying) CheckDrying(print.Id, spell, plastics.GetValueOrDefault(print.Group.Material, ""), findings);
            foreach (string name in record.PrinterSettings.GroupBy(s => s.Name.Trim(), StringComparer.OrdinalIgnoreCase).Where(g => g.Count() > 1).Select(g => g.Key))
                Warn(findings, $"Print {print.Id}: the printer setting “{name}” is noted twice.");
        }

        string[] without = [.. study.Prints.Where(p => p.Record is null).Select(p => p.Id)];
        if (without.Length > 0)
        {
            Warn(findings, without.Length == study.Prints.Count
                ? "No print has a record of storage, drying and printing: what differs between groups besides the condition cannot be checked."
                : $"Prints without a record of storage, drying and printing: {string.Join(", ", without)}.");
        }

        return [.. findings.OrderByDescending(f => f.Refused)];
    }

    private static void CheckStorage(string print, StorageSpell spell, List<StudyFinding> findings)
    {
        if (spell.TemperatureCelsius is { } temperature && !IsTemperature(temperature)) Refuse(findings, $"Print {print}: storage at {Say(temperature)} °C is not possible.");
        if (spell.RelativeHumidityPercent is { } humidity && humidity is not (>= 0 and <= 100)) Refuse(findings, $"Print {print}: a relative humidity of {Say(humidity)} % is not possible.");
        if (spell.Hours is { } hours && !(hours >= 0 && double.IsFinite(hours))) Refuse(findings, $"Print {print}: {Say(hours)} hours of storage are not possible.");
    }

    private static void CheckDrying(string print, DryingSpell spell, string plastic, List<StudyFinding> findings)
    {
        double? set = spell.SetTemperatureCelsius, measured = spell.MeasuredTemperatureCelsius;
        foreach (double temperature in new[] { set, measured }.OfType<double>().Where(t => !IsTemperature(t)))
            Refuse(findings, $"Print {print}: drying at {Say(temperature)} °C is not possible.");
        if (spell.Hours is { } hours && !(hours > 0 && double.IsFinite(hours))) Refuse(findings, $"Print {print}: {Say(hours)} hours of drying are not possible.");
        if (new[] { spell.MassBeforeGrams, spell.MassAfterGrams }.OfType<double>().Any(m => !(m > 0 && double.IsFinite(m)))) Refuse(findings, $"Print {print}: a mass must be above 0 g.");
        if (measured is null) Warn(findings, $"Print {print}: the dryer's temperature was set but not measured; its hottest spot can lie well above (common practice, no source).");
        if (measured - set > DryerExcessCelsiusMax)
            Warn(findings, $"Print {print}: the dryer reached {Say(measured!.Value)} °C where {Say(set!.Value)} °C were set.");
        if (DryingTable.For(plastic) is { } range && (measured ?? set) is { } felt && felt > range.HighCelsius)
            Warn(findings, $"Print {print}: {Say(felt)} °C is above the {Say(range.LowCelsius)} to {Say(range.HighCelsius)} °C in use for {plastic} (common practice, no source): the filament may have softened or aged.");
        if (spell.UptakePercent < 0) Warn(findings, $"Print {print}: it was heavier after drying than before; were the masses exchanged, or was it weighed warm?");
    }

    private static bool IsTemperature(double celsius) => celsius is > -273.15 and < 1000;

    private static void Refuse(List<StudyFinding> findings, string text) => findings.Add(new StudyFinding(true, text));

    private static void Warn(List<StudyFinding> findings, string text) => findings.Add(new StudyFinding(false, text));

    private static string Say(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
