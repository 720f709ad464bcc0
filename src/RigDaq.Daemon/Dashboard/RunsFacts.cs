using System.Globalization;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;

namespace RigDaq.Daemon.Dashboard;

/// <summary>What is known of a run, as names with values; what is not known is left out.</summary>
internal static class RunFacts
{
    internal static IReadOnlyList<RunFact> Reading(Run run)
    {
        var facts = new Facts();
        if (run.Reading is not { } r) return facts.All;
        facts.Add("Peak force", r.PeakForceNewtons, "0.0", "N");
        facts.Add("Greatest single sample", r.RawPeakForceNewtons, "0.0", "N");
        facts.Add("First maximum", r.FirstMaximumForceNewtons, "0.0", "N");
        facts.Add("Force at break", r.BreakForceNewtons, "0.0", "N");
        facts.Add("Stress at break", run.Strength?.AtBreakMegapascals, "0.00", "MPa");
        facts.Add("Loading rate at the peak", r.LoadingRateNewtonsPerSecond, "0.0", "N/s");
        facts.Add("Extension at the peak", r.ExtensionAtPeakMillimetres, "0.000", "mm");
        facts.Add("Initial slope (of the crosshead, not a modulus)", r.InitialSlopeNewtonsPerMillimetre, "0.0", "N/mm");
        if (r.ExtensionAtPeakMillimetres is not null && r.ComplianceMillimetresPerNewton is null) facts.Add("The machine's own give", "not measured: it is in extension, slope and work");
        facts.Add("The machine's own give, taken off", 1000 * r.ComplianceMillimetresPerNewton, "0.###", "µm/N");
        facts.Add("Work to the break", r.WorkToBreakJoules, "0.000", "J");
        facts.Add("Falls that recovered", r.LoadDrops.Count, "0", "");
        facts.Add("Noise", r.NoiseNewtons, "0.000", "N");
        facts.Add("Shift of the zero", run.ZeroShiftNewtons, "0.000", "N");
        facts.Add("Sample rate", r.SampleRateHertz, "0.#", "a second");
        facts.Add("Spikes left out", r.SpikesRemoved, "0", "");
        facts.Add("Samples lost", r.SamplesLost, "0", "");
        return facts.All;
    }

    internal static IReadOnlyList<RunFact> Section(Run run, Study? study)
    {
        var facts = new Facts();
        if (run.Strength is { } s)
        {
            facts.Add("Area", s.AreaSquareMillimetres, "0.000", "mm²");
            facts.Add("Its standard uncertainty", s.AreaStandardUncertaintySquareMillimetres, "0.000", "mm²");
            facts.Add("Taken from", s.SectionBasis);
        }

        if (study?.Specimens.FirstOrDefault(p => p.Id == run.Head.SpecimenId)?.Section is not { } m) return facts.All;
        facts.Add("Widths read", List(m.WidthsMillimetres));
        facts.Add("Thicknesses read", List(m.ThicknessesMillimetres));
        if (m.Mass is { } mass)
        {
            facts.Add("Mass", mass.MassGrams, "0.####", "g");
            facts.Add("Length", mass.LengthMillimetres, "0.###", "mm");
            facts.Add("Density", mass.DensityGramsPerCubicCentimetre, "0.####", "g/cm³");
        }

        return facts.All;

        static string List(IReadOnlyList<double> readings) => readings.Count == 0 ? "" : string.Join(", ", readings.Select(v => v.ToString("0.###", CultureInfo.InvariantCulture))) + " mm";
    }

    internal static IReadOnlyList<RunFact> Conditions(Run run, Study? study)
    {
        var facts = new Facts();
        PullSettings settings = run.Head.Settings;
        facts.Add("Speed of the pull", settings.SpeedMillimetresPerSecond, "0.###", "mm/s");
        facts.Add("Preload", settings.PreloadNewtons, "0.##", "N");
        facts.Add("Force from clamping", run.Head.ClampingForceNewtons, "0.0", "N");
        facts.Add("Device", run.Head.Device.Simulated ? $"{run.Head.Device.Name} (virtual rig)" : run.Head.Device.Name);
        facts.Add("Calibration", run.Head.CalibrationId);
        facts.Add("Machine compliance", run.Reading?.ComplianceId ?? "");
        Specimen? specimen = study?.Specimens.FirstOrDefault(s => s.Id == run.Head.SpecimenId);
        if (study?.Prints.FirstOrDefault(p => p.Id == specimen?.PrintId) is not { } print) return facts.All;
        facts.Add("Print", print.Id);
        facts.Add("Piece kept as", specimen?.KeptAs, "0", "");
        if (print.Record is not { } record) return facts.All;
        foreach (StorageSpell spell in record.Storage) facts.Add("Stored", Spell(spell));
        foreach (DryingSpell spell in record.Drying) facts.Add("Dried", Drying(spell));
        if (record.WhilePrinting is { } printing) facts.Add("While printing", Spell(printing));
        facts.Add("Chamber", record.ChamberTemperatureCelsius, "0.#", "°C");
        foreach (PrinterSetting setting in record.PrinterSettings) facts.Add(setting.Name, setting.Value);
        facts.Add("Notes", record.Notes);
        return facts.All;
    }

    private static string Spell(StorageSpell spell) => Join(spell.Place, Text(spell.TemperatureCelsius, "°C"), Text(spell.RelativeHumidityPercent, "% RH"), Text(spell.Hours, "h"));

    private static string Drying(DryingSpell spell) => Join(
        Text(spell.SetTemperatureCelsius, "°C set"), Text(spell.MeasuredTemperatureCelsius, "°C measured"), Text(spell.Hours, "h"), Text(spell.UptakePercent, "% uptake"));

    private static string Join(params string[] parts) => string.Join(", ", parts.Where(part => part.Length > 0));

    private static string Text(double? value, string unit) => value is { } v ? string.Create(CultureInfo.InvariantCulture, $"{v:0.##} {unit}") : "";

    private sealed class Facts
    {
        private readonly List<RunFact> _all = [];

        internal IReadOnlyList<RunFact> All => _all;

        internal void Add(string name, string value)
        {
            if (value.Length > 0) _all.Add(new RunFact(name, value));
        }

        internal void Add(string name, double? value, string format, string unit)
        {
            if (value is not { } v || !double.IsFinite(v)) return;
            string text = v.ToString(format, CultureInfo.InvariantCulture);
            // A true minus, and no "-0.000".
            if (text[0] == '-') text = (text.AsSpan().IndexOfAnyInRange('1', '9') < 0 ? "" : "\u2212") + text[1..];
            Add(name, $"{text}\u202f{unit}".TrimEnd('\u202f'));
        }
    }
}
