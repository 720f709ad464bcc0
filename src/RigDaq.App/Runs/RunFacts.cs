using System.Globalization;
using RigDaq.App.Text;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Uncertainty;

namespace RigDaq.App.Runs;

/// <summary>What is known of a run, as names with values; what is not known is left out.</summary>
internal static class RunFacts
{
    // Of work; a kept unit that nobody chooses.
    private static readonly Unit Joule = new("J", 1);

    internal static IReadOnlyList<RunFact> Reading(Run run, Units units)
    {
        var facts = new Facts();
        if (run.Reading is not { } r) return facts.All;
        Unit force = units.Force;
        double? peak = PeakForceUncertainty.ExpandedNewtons(run);
        double? share = peak / r.PeakForceNewtons;
        double? noise = PeakForceUncertainty.CoverageFactor * r.NoiseNewtons;
        facts.Add(PageText.Of("facts.peakForce"), r.PeakForceNewtons, force, peak, 1);
        facts.Add(PageText.Of("facts.greatestSingleSample"), r.RawPeakForceNewtons, force, peak, 1);
        facts.Add(PageText.Of("facts.firstMaximum"), r.FirstMaximumForceNewtons, force, peak, 1);
        facts.Add(PageText.Of("facts.forceAtBreak"), r.BreakForceNewtons, force, peak, 1);
        facts.Add(PageText.Of("facts.stressAtBreak"), run.Strength?.AtBreakMegapascals, units.Stress,
            PeakForceUncertainty.CoverageFactor * run.Strength?.StandardUncertaintyMegapascals, 1);
        facts.Add(PageText.Of("facts.brokeAt"), run.BrokeAt is { } broke
            ? string.Create(CultureInfo.InvariantCulture, $"{broke.ToUniversalTime():yyyy-MM-dd HH:mm:ss.fff} UTC") : "");
        facts.Add(PageText.Of("facts.loadingRateAtThePeak"), r.LoadingRateNewtonsPerSecond, units.ForceRate,
            PeakForceUncertainty.CoverageFactor * r.LoadingRateStandardUncertaintyNewtonsPerSecond, 1);
        facts.Add(PageText.Of("facts.extensionAtThePeak"), r.ExtensionAtPeakMillimetres, units.Length, null, 2);
        facts.Add(PageText.Of("facts.initialSlope"), r.InitialSlopeNewtonsPerMillimetre, units.Slope,
            PeakForceUncertainty.CoverageFactor * r.InitialSlopeStandardUncertaintyNewtonsPerMillimetre, 1);
        if (r.ExtensionAtPeakMillimetres is not null && r.ComplianceMillimetresPerNewton is null)
            facts.Add(PageText.Of("facts.give"), PageText.Of("facts.giveNotMeasured"));
        facts.Add(PageText.Of("facts.giveTakenOff"), 1000 * r.ComplianceMillimetresPerNewton, units.Give, null, 3);
        if (r.Gauge is { } gauge)
        {
            facts.Add(PageText.Of("facts.gaugeAtThePeak"), gauge.ExtensionAtPeakMillimetres, units.Length, null, 4);
            facts.Add(PageText.Of("facts.gaugeAtBreak"), gauge.ExtensionAtBreakMillimetres, units.Length, null, 4);
            facts.Add(PageText.Of("facts.gaugeSlope"), gauge.InitialSlopeNewtonsPerMillimetre, units.Slope,
                PeakForceUncertainty.CoverageFactor * gauge.InitialSlopeStandardUncertaintyNewtonsPerMillimetre, 1);
        }

        facts.Add(PageText.Of("facts.workToTheBreak"), r.WorkToBreakJoules, Joule, share * r.WorkToBreakJoules, 3);
        facts.Add(PageText.Of("facts.fallsThatRecovered"), r.LoadDrops.Count, "0", "");
        facts.Add(PageText.Of("facts.noise"), r.NoiseNewtons, force, r.NoiseNewtons, 3);
        facts.Add(PageText.Of("facts.shiftOfTheZero"), run.ZeroShiftNewtons, force, noise, 3);
        facts.Add(PageText.Of("facts.sampleRate"), r.SampleRateHertz, "0.#", PageText.Of("facts.aSecond"));
        facts.Add(PageText.Of("facts.spikesLeftOut"), r.SpikesRemoved, "0", "");
        facts.Add(PageText.Of("facts.samplesLost"), r.SamplesLost, "0", "");
        return facts.All;
    }

    internal static IReadOnlyList<RunFact> Section(Run run, Study? study, Units units)
    {
        var facts = new Facts();
        if (run.Strength is { } s)
        {
            double expanded = PeakForceUncertainty.CoverageFactor * s.AreaStandardUncertaintySquareMillimetres;
            facts.Add(PageText.Of("facts.area"), s.AreaSquareMillimetres, units.Area, expanded, 2);
            facts.Add(PageText.Of("facts.itsStandardUncertainty"), s.AreaStandardUncertaintySquareMillimetres, units.Area, expanded, 3);
            facts.Add(PageText.Of("facts.takenFrom"), s.SectionBasis);
        }

        if (study?.Specimens.FirstOrDefault(p => p.Id == run.Head.SpecimenId)?.Section is not { } m) return facts.All;
        facts.Add(PageText.Of("facts.widthsRead"), List(m.WidthsMillimetres, m.ResolutionMillimetres, units.Length));
        facts.Add(PageText.Of("facts.thicknessesRead"), List(m.ThicknessesMillimetres, m.ResolutionMillimetres, units.Length));
        if (m.Mass is { } mass)
        {
            facts.Add(PageText.Of("facts.mass"), mass.MassGrams, "0.####", "g");
            facts.Add(PageText.Of("facts.length"), mass.LengthMillimetres, units.Length, null, 2);
            facts.Add(PageText.Of("facts.density"), mass.DensityGramsPerCubicCentimetre, "0.####", "g/cm³");
        }

        return facts.All;
    }

    internal static IReadOnlyList<RunFact> Conditions(Run run, Study? study, Units units)
    {
        var facts = new Facts();
        PullSettings settings = run.Head.Settings;
        if (run.Head.Recording is { } recording)
        {
            facts.Add(PageText.Of("facts.recordedIn"), recording.File);
            facts.Add(PageText.Of("facts.recordedCurve"), recording.Curve);
            facts.Add(PageText.Of("facts.recordedReadAs"), recording.ReadAs);
            facts.Add(PageText.Of("facts.calibration"), PageText.Of("facts.recordedCalibration"));
            return [.. facts.All, .. OfPrint(run, study)];
        }

        facts.Add(PageText.Of("facts.speedOfThePull"), units.Speed.Of(settings.SpeedMillimetresPerSecond), "0.###", units.Speed.Symbol);
        facts.Add(PageText.Of("facts.preload"), units.Force.Of(settings.PreloadNewtons), "0.###", units.Force.Symbol);
        facts.Add(PageText.Of("facts.forceFromClamping"), run.Head.ClampingForceNewtons, units.Force, null, 1);
        facts.Add(PageText.Of("facts.device"), run.Head.Device.Simulated ? PageText.Of("facts.virtualRig", ("device", run.Head.Device.Name))
            : run.Head.Device.Name);
        facts.Add(PageText.Of("facts.calibration"), run.Head.CalibrationId);
        facts.Add(PageText.Of("facts.machineCompliance"), run.Reading?.ComplianceId ?? "");
        return [.. facts.All, .. OfPrint(run, study)];
    }

    private static IReadOnlyList<RunFact> OfPrint(Run run, Study? study)
    {
        var facts = new Facts();
        Specimen? specimen = study?.Specimens.FirstOrDefault(s => s.Id == run.Head.SpecimenId);
        if (study?.Prints.FirstOrDefault(p => p.Id == specimen?.PrintId) is not { } print) return facts.All;
        facts.Add(PageText.Of("facts.print"), print.Id);
        facts.Add(PageText.Of("facts.place"), specimen?.Place, "0", "");
        facts.Add(PageText.Of("facts.pieceKeptAs"), specimen?.KeptAs, "0", "");
        return [.. facts.All, .. HowItCameToBe(print.Record)];
    }

    /// <summary>What was noted of a print, in words and figures; empty where nothing was.</summary>
    internal static IReadOnlyList<RunFact> HowItCameToBe(PrintRecord? record)
    {
        var facts = new Facts();
        if (record is null) return facts.All;
        foreach (StorageSpell spell in record.Storage) facts.Add(PageText.Of("facts.stored"), Spell(spell));
        foreach (DryingSpell spell in record.Drying) facts.Add(PageText.Of("facts.dried"), Drying(spell));
        if (record.WhilePrinting is { } printing) facts.Add(PageText.Of("facts.whilePrinting"), Spell(printing));
        facts.Add(PageText.Of("facts.chamber"), record.ChamberTemperatureCelsius, "0.#", "°C");
        foreach (PrinterSetting setting in record.PrinterSettings) facts.Add(setting.Name, setting.Value);
        facts.Add(PageText.Of("facts.notes"), record.Notes);
        return facts.All;
    }

    /// <summary>Readings as they were typed; in another unit than mm to the last step that the caliper shows.</summary>
    private static string List(IReadOnlyList<double> readings, double resolution, Unit unit)
    {
        int decimals = resolution > 0 ? (int)Math.Ceiling(-Math.Log10(unit.Of(resolution))) : unit.Decimals(2);
        return readings.Count == 0 ? "" : string.Join(", ", readings.Select(reading =>
            unit.IsStored ? reading.ToString("0.####", CultureInfo.InvariantCulture) : NumberText.Of(unit.Of(reading), decimals)))
                + "\u202f" + unit.Symbol;
    }

    private static string Spell(StorageSpell spell) => Join(spell.Place, Text(spell.TemperatureCelsius, "°C"),
        Text(spell.RelativeHumidityPercent, PageText.Of("facts.rh")), Text(spell.Hours, "h"));

    private static string Drying(DryingSpell spell) => Join(
        Text(spell.SetTemperatureCelsius, PageText.Of("facts.cSet")),
            Text(spell.MeasuredTemperatureCelsius, PageText.Of("facts.cMeasured")), Text(spell.Hours, "h"),
            Text(spell.UptakePercent, PageText.Of("facts.uptake")));

    private static string Join(params string[] parts) => string.Join(", ", parts.Where(part => part.Length > 0));

    private static string Text(double? value, string unit)
        => value is { } v ? string.Create(CultureInfo.InvariantCulture, $"{v:0.##} {unit}") : "";

    private sealed class Facts
    {
        private readonly List<RunFact> _all = [];

        internal IReadOnlyList<RunFact> All => _all;

        internal void Add(string name, string value)
        {
            if (value.Length > 0) _all.Add(new RunFact(name, value));
        }

        internal void Add(string name, double? stored, Unit unit, double? expanded, int storedDecimals)
        {
            if (stored is not { } v || !double.IsFinite(v)) return;
            Add(name, $"{NumberText.Of(unit.Of(v), unit.Decimals(expanded, storedDecimals))}\u202f{unit.Symbol}");
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

/// <summary>A name with a value, as text.</summary>
internal sealed record RunFact(string Name, string Value);
