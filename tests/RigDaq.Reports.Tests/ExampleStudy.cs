using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Watching;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;
using RigDaq.Core.Trace;
using RigDaq.Reports.Model;
using RigDaq.Tests.Shared;
using RigDaq.Text;

namespace RigDaq.Reports.Tests;

/// <summary>An invented study of the workshop at Kestrel Lane: two filaments, three nozzle temperatures, the fan off and on.</summary>
internal static class ExampleStudy
{
    public static readonly DateTimeOffset Start = new(2026, 11, 2, 20, 15, 0, TimeSpan.Zero);

    public static StudyReportModel Model(int specimensAPrint = 6, int printsAGroup = 1, bool traces = true, int seed = 7,
        bool withVoids = true, Units? units = null)
    {
        var random = new Random(seed);
        var prints = new List<Print>();
        var specimens = new List<Specimen>();
        var runs = new List<Run>();
        var overlaid = new List<ReportTrace>();
        foreach (var (material, strength) in new[] { ("Alder", 31.0), ("Birch", 24.0) })
        {
            foreach (string fan in new[] { "fan off", "fan on" })
            {
                foreach (decimal temperature in new[] { 205m, 220m, 235m })
                {
                    for (int p = 1; p <= printsAGroup; p++)
                    {
                        var print = Print.Of($"{material[0]}{(fan == "fan on" ? "n" : "f")}{temperature}-{p}",
                            new GroupKey(material, fan, temperature)) with
                        { Record = Record(material) };
                        prints.Add(print);
                        double mean = strength + ((double)temperature - 205) * .12
                            - (fan == "fan on" ? 5 - (((double)temperature - 205) * .12) : 0);
                        for (int s = 1; s <= specimensAPrint; s++) Add(print, s, mean + (WorkshopCalibration.Normal(random) * 1.2));
                    }
                }
            }
        }

        var study = new Study
        {
            Id = "kestrel-lane-fan",
            Name = "Does the cooling fan weaken layer adhesion?",
            CreatedAt = Start,
            SettingName = "nozzle temperature",
            SettingUnit = "°C",
            Prints = prints,
            Specimens = specimens,
            ReferenceCondition = "fan off",
            ReferenceSetting = 220,
            Seed = 20261102,
            PlanFrozenAt = Start.AddHours(-1),
        };
        return StudyReportModel.Create(study, runs, [Calibration()], Start.AddHours(9), "0.1.0", overlaid, units) with
        {
            CheckWeights = new Dictionary<string, CheckWeight> { [CalibrationId] = CheckWeights(new Random(11)) },
        };

        void Add(Print print, int number, double strength)
        {
            string id = $"{print.Id}.{number}";
            specimens.Add(new Specimen
            {
                Id = id,
                PrintId = print.Id,
                Setting = print.Stretches[0].Setting,
                Order = specimens.Count + 1,
                Section = new SectionMeasurement { WidthsMillimetres = [4.01, 4.03, 4.02], ThicknessesMillimetres = [3.99, 4.0, 4.0] },
            });
            bool slipped = withVoids && number == 3 && print.Id == "Af220-1";
            bool left = withVoids && number == 2 && print.Id == "Bn235-1";
            runs.Add(MakeRun(id, runs.Count, strength, slipped, left));
            if (traces && number <= 4 && print.Material == "Alder" && print.At(220) is not null) overlaid
                .Add(Trace(runs[^1], print.GroupAt(220), strength * 16.08));
        }
    }

    private static readonly Lazy<CalibrationRecord> Made = new(() => WorkshopCalibration.Make(Start.AddDays(-3)));

    private const string CalibrationId = WorkshopCalibration.Id;

    public static CalibrationRecord Calibration() => Made.Value;

    private static CheckWeight CheckWeights(Random random) => CheckWeight.Of(
        [.. Enumerable.Range(0, 42)
            .Select(i => new CheckWeightReading(Start.AddDays(i - 42), 49.05 + (WorkshopCalibration.Normal(random) * .01)
            + (i > 38 ? .04 : 0), CalibrationId))],
        CalibrationId,
        49.05,
        .001,
        .05);

    private static PrintRecord Record(string material) => new()
    {
        Storage = [new StorageSpell("bag with desiccant", 21, 18, 72)],
        Drying = [new DryingSpell { SetTemperatureCelsius = 55, MeasuredTemperatureCelsius = material == "Alder" ? 51.5 : null, Hours = 6,
            MassBeforeGrams = 612.4, MassAfterGrams = 610.9 }],
        ChamberTemperatureCelsius = 27,
        PrinterSettings = [new PrinterSetting("layer height", "0.2 mm"), new PrinterSetting("speed", "45 mm/s")],
    };

    private static Run MakeRun(string specimen, int number, double strength, bool slipped, bool left)
    {
        var head = new PullHead
        {
            RunId = $"0193a3a0-0000-7000-8000-{number:d12}",
            StudyId = "kestrel-lane-fan",
            SpecimenId = specimen,
            SequenceId = "night of 2 November",
            CalibrationId = CalibrationId,
            StartedAt = Start.AddSeconds(number * 70),
            Settings = new PullSettings { SpeedMillimetresPerSecond = 0.25 },
            Device = new RigDevice("00112233445566aa", "virtual rig", 1, true),
            ZeroCounts = 81_234,
            NoiseCounts = 30,
            IntervalSeconds = 0.0125,
        };
        PullEnding ending = slipped ? PullEnding.SlippedOut : PullEnding.Broken;
        return new Run
        {
            Head = head,
            Ending = ending,
            Reason = slipped ? Sentence.Verbatim("the force fell over more than 0.3 s") : Sentence.None,
            EndedAt = head.StartedAt.AddSeconds(40),
            RevisedAt = head.StartedAt.AddSeconds(41),
            Reading = new TraceReading
            {
                Ending = ending,
                PeakForceNewtons = strength * 16.08,
                BreakForceNewtons = slipped ? null : strength * 16.02,
                SampleRateHertz = 80,
                NoiseNewtons = 0.004,
                UnderReadNewtons = 0.6,
            },
            Strength = slipped ? null : new StrengthResult
            {
                Megapascals = strength,
                StandardUncertaintyMegapascals = strength * .006,
                RelativeComparisonUncertaintyMegapascals = strength * .004,
                AreaSquareMillimetres = 16.08,
                AreaStandardUncertaintySquareMillimetres = 0.03,
                SectionBasis = "per specimen, width × thickness",
            },
            Void = left ? new RunVoid(VoidKind.GripFailure, "broke in the jaw", head.StartedAt.AddMinutes(1)) : null,
        };
    }

    private static ReportTrace Trace(Run run, GroupKey group, double peak)
    {
        double[] times = [.. Enumerable.Range(0, 300).Select(i => i * .1)];
        double breaks = 22 + (peak % 3);
        return new ReportTrace(
            run.Head.RunId,
            run.Head.SpecimenId,
            group,
            times,
            [.. times.Select(t => t < 2 ? 0 : t < breaks ? peak * Math.Sin(Math.Min(1, (t - 2) / (breaks - 2)) * Math.PI / 2) : 0)],
            breaks);
    }
}
