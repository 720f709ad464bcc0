using RigDaq.Core.Text;
using RigDaq.Text;

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
            foreach (StorageSpell spell in record.Storage.Concat(record.WhilePrinting is { } spool ? [spool] : [])) CheckStorage(print.Id,
                spell, findings);
            if (record.ChamberTemperatureCelsius is { } chamber && !IsTemperature(chamber)) Refuse(findings,
                CoreText.ChamberNotPossible(print.Id, chamber));
            foreach (DryingSpell spell in record.Drying)
                CheckDrying(print.Id, spell, plastics.GetValueOrDefault(print.Material, ""), findings);
            foreach (string name in record.PrinterSettings.GroupBy(s => s.Name.Trim(), StringComparer.OrdinalIgnoreCase)
                .Where(g => g.Count() > 1).Select(g => g.Key))
                Warn(findings, CoreText.PrinterSettingTwice(print.Id, name));
        }

        string[] without = [.. study.Prints.Where(p => p.Record is null).Select(p => p.Id)];
        if (without.Length > 0)
            Warn(findings, without.Length == study.Prints.Count ? CoreText.NoPrintHasRecord : CoreText.PrintsWithoutRecord(without));

        return [.. findings.OrderByDescending(f => f.Refused)];
    }

    private static void CheckStorage(string print, StorageSpell spell, List<StudyFinding> findings)
    {
        if (spell.TemperatureCelsius is { } temperature && !IsTemperature(temperature)) Refuse(findings,
            CoreText.StorageTemperatureNotPossible(print, temperature));
        if (spell.RelativeHumidityPercent is { } humidity && humidity is not (>= 0 and <= 100)) Refuse(findings,
            CoreText.HumidityNotPossible(print, humidity));
        if (spell.Hours is { } hours && !(hours >= 0 && double.IsFinite(hours))) Refuse(findings,
            CoreText.StorageHoursNotPossible(print, hours));
    }

    private static void CheckDrying(string print, DryingSpell spell, string plastic, List<StudyFinding> findings)
    {
        double? set = spell.SetTemperatureCelsius, measured = spell.MeasuredTemperatureCelsius;
        foreach (double temperature in new[] { set, measured }.OfType<double>().Where(t => !IsTemperature(t)))
            Refuse(findings, CoreText.DryingTemperatureNotPossible(print, temperature));
        if (spell.Hours is { } hours && !(hours > 0 && double.IsFinite(hours))) Refuse(findings,
            CoreText.DryingHoursNotPossible(print, hours));
        if (new[] { spell.MassBeforeGrams, spell.MassAfterGrams }.OfType<double>()
            .Any(m => !(m > 0 && double.IsFinite(m)))) Refuse(findings, CoreText.MassNotAboveZero(print));
        if (measured is null) Warn(findings, CoreText.DryerNotMeasured(print));
        if (measured - set > DryerExcessCelsiusMax) Warn(findings, CoreText.DryerAboveSet(print, measured!.Value, set!.Value));
        if (DryingTable.For(plastic) is { } range && (measured ?? set) is { } felt && felt > range.HighCelsius)
            Warn(findings, CoreText.DriedTooHot(print, felt, range.LowCelsius, range.HighCelsius, plastic));
        if (spell.UptakePercent < 0) Warn(findings, CoreText.HeavierAfterDrying(print));
    }

    private static bool IsTemperature(double celsius) => celsius is > -273.15 and < 1000;

    private static void Refuse(List<StudyFinding> findings, Sentence text) => findings.Add(new StudyFinding(true, text));

    private static void Warn(List<StudyFinding> findings, Sentence text) => findings.Add(new StudyFinding(false, text));
}
