using RigDaq.Archive;
using RigDaq.Archive.Photos;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.References;
using RigDaq.Core.Calibration.Watching;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.Core.Specimens;
using RigDaq.Text;

namespace RigDaq.Tests.Shared;

/// <summary>
/// An invented study whose runs are computed from raw samples as the program computes them: two filaments, the fan off and on, three
/// nozzle temperatures, one print each; one run slipped out, one left out, one looked at.
/// </summary>
internal static class PulledStudy
{
    public const string Id = "kestrel-lane-fan";
    public const string LaterId = "later";
    public static readonly DateTimeOffset Start = new(2026, 11, 2, 20, 15, 0, TimeSpan.Zero);

    /// <summary>The start and the end of a JPEG, with a segment that a camera would write; nothing to look at.</summary>
    private static byte[] Jpeg => [0xFF, 0xD8, 0xFF, 0xE1, 0, 10, .. "Exif\0\0"u8, 0, 0, .. TinyPicture.Jpeg().AsSpan(2)];

    private const int IntervalMicroseconds = 12_500;
    private const int StillSamples = 80;

    /// <summary>A mass of 5 kg, read on each of so many days before the study; the last days a little high.</summary>
    private static void WatchWith(RigDiary diary, DateTimeOffset until, int days)
    {
        var random = new Random(11);
        ReferenceForce force = ReferenceForces.Hanging([Weight.OfClass("5 kg", 5, WeightClass.M1)], LocalGravity.At(51.5, 40),
            AirDensity.AtHeight(40));
        diary.Save(new CheckWeightPlan(WorkshopCalibration.DeviceId, force));
        for (int day = 0; day < days; day++)
        {
            double newtons = force.Newtons + (WorkshopCalibration.Normal(random) * .01) + (day > days - 3 ? .02 : 0);
            diary.Add(WorkshopCalibration.DeviceId, new CheckWeightReading(until.AddDays(day - days), newtons, WorkshopCalibration.Id));
        }
    }

    /// <summary>Calibration, study and runs go to the archive as they would while a rig pulls.</summary>
    /// <param name="archive">An empty one.</param>
    /// <param name="specimensAPrint">There are twelve prints.</param>
    /// <param name="loadingSeconds">How long a pull lasts, about.</param>
    /// <param name="seed">The same seed gives the same samples.</param>
    public static void Fill(RigArchive archive, int specimensAPrint = 4, double loadingSeconds = 4, int seed = 7)
    {
        var random = new Random(seed);
        CalibrationRecord calibration = WorkshopCalibration.Make(Start.AddDays(-3));
        archive.Calibrations.Save(calibration);
        WatchWith(archive.Diary, Start, 42);
        Study study = Planned(specimensAPrint);
        archive.Studies.Save(study, "made");
        study = study with { PlanFrozenAt = Start.AddHours(-1) };
        archive.Studies.Save(study, "plan frozen");
        study = study with { Specimens = [.. study.Specimens.Select(specimen => specimen with { Section = Section(random) })] };
        archive.Studies.Save(study, "sections measured");
        IReadOnlyDictionary<string, GroupKey> groups = study.GroupOfSpecimens();
        foreach (Specimen specimen in study.Specimens)
        {
            double megapascals = Mean(groups[specimen.Id]) + (WorkshopCalibration.Normal(random) * 1.3);
            PullRecord pull = Pull(specimen, megapascals * 16.08, specimen.Order == 5, loadingSeconds, random);
            archive.Runs.Store(RunCalculation.Calculate(pull, study, calibration, pull.EndedAt), pull, []);
        }

        Run[] runs = [.. archive.Runs.OfStudy(Id)];
        archive.Runs.Revise(RunCorrections.Void(runs[7], VoidKind.GripFailure, "broke in the jaw, \"inside\"", Start.AddHours(6)), []);
        KeptPhoto photo = archive.Photos.Keep(runs[9].Head.RunId, 1, Jpeg);
        archive.Runs.Revise(
            RunCorrections.Look(
                runs[9],
                new FractureLook
                {
                    Location = FractureLocation.GaugeLength,
                    Layer = "31",
                    Appearance = "flat, one layer",
                    PhotoName = photo.Name,
                    PhotoSha256 = photo.Sha256,
                    At = Start.AddHours(6),
                },
                Start.AddHours(6)),
            []);
    }

    /// <summary>The same groups again, from a table, 2 MPa stronger each.</summary>
    public static Study Later()
    {
        var random = new Random(5);
        Study made = new StudyPlan
        {
            Id = LaterId,
            Name = "Once more",
            Materials = [new MaterialRecord("Alder", "PLA"), new MaterialRecord("Birch", "PETG")],
            Conditions = ["fan off", "fan on"],
            Settings = [205, 220, 235],
            SettingUnit = "°C",
            ReferenceCondition = "fan off",
            SpecimensPerStretch = 6,
            SeparatePrints = true,
            Seed = 1,
        }.Make(Start.AddDays(30));
        return made with
        {
            Imported =
                [.. made.Specimens
                .Select((s, i) => new ImportedStrength(s.Id, 32 + WorkshopCalibration.Normal(random), $"last.csv, line {i + 2}",
                Start.AddDays(31)))],
        };
    }

    private static Study Planned(int specimensAPrint)
    {
        var prints = new List<Print>();
        foreach (string material in new[] { "Alder", "Birch" })
        {
            foreach (string fan in new[] { "fan off", "fan on" })
            {
                foreach (decimal temperature in new[] { 205m, 220m, 235m })
                    prints.Add(Print.Of($"{material[0]}{(fan == "fan on" ? "n" : "f")}{temperature}",
                        new GroupKey(material, fan, temperature)));
            }
        }

        // In blocks with one specimen of every print, as a study's order is.
        return new Study
        {
            Id = Id,
            Name = "Does the cooling fan weaken layer adhesion?",
            CreatedAt = Start.AddHours(-2),
            SettingName = "nozzle temperature",
            SettingUnit = "°C",
            Prints = prints,
            Specimens = [.. Enumerable.Range(0, specimensAPrint * prints.Count).Select(i => new Specimen
            {
                Id = $"{prints[i % prints.Count].Id}-{(i / prints.Count) + 1:00}",
                PrintId = prints[i % prints.Count].Id,
                Setting = prints[i % prints.Count].Stretches[0].Setting,
                Order = i + 1,
            })],
            ReferenceCondition = "fan off",
            ReferenceSetting = 220,
            Seed = 20261102,
        };
    }

    private static double Mean(GroupKey group) =>
        (group.Material == "Alder" ? 31 : 24) + (((double)group.Setting! - 205) * (group.Condition == "fan on" ? .24 : .12))
            - (group.Condition == "fan on" ? 5 : 0);

    private static SectionMeasurement Section(Random random)
    {
        double width = 4.02 + (random.Next(-3, 4) * .01), thickness = 4 + (random.Next(-2, 3) * .01);
        return new SectionMeasurement
        {
            WidthsMillimetres = [width, Math.Round(width + .01, 2), width],
            ThicknessesMillimetres = [thickness, thickness, Math.Round(thickness - .01, 2)]
        };
    }

    private static PullRecord Pull(Specimen specimen, double peakNewtons, bool slips, double loadingSeconds, Random random)
    {
        DateTimeOffset at = Start.AddSeconds(70 * specimen.Order);
        int rising = (int)(loadingSeconds / IntervalMicroseconds * 1e6 * (0.9 + (0.2 * random.NextDouble()))), after = StillSamples;
        int falling = slips ? 80 : 0;
        var samples = new RawSample[StillSamples + rising + falling + after];
        for (int i = 0; i < samples.Length; i++)
        {
            double loaded = i < StillSamples ? 0
                : i < StillSamples + rising ? Math.Sin((i - StillSamples) / (double)rising * Math.PI * .42) / Math.Sin(Math.PI * .42)
                : i < StillSamples + rising + falling ? 1 - ((i - StillSamples - rising) / (double)falling) : 0;
            double counts = WorkshopCalibration.ZeroCounts + (loaded * peakNewtons / WorkshopCalibration.NewtonsPerCount)
                + (WorkshopCalibration.Normal(random) * 30);
            samples[i] = new RawSample(i, i * (long)IntervalMicroseconds, (int)Math.Round(counts), i * 2);
        }

        PullEnding ending = slips ? PullEnding.SlippedOut : PullEnding.Broken;
        return new PullRecord
        {
            Head = new PullHead
            {
                RunId = $"0193a3a0-0000-7000-8000-{specimen.Order:d12}",
                StudyId = Id,
                SpecimenId = specimen.Id,
                SequenceId = "night of 2 November",
                CalibrationId = WorkshopCalibration.Id,
                StartedAt = at,
                Settings = new PullSettings { SpeedMillimetresPerSecond = 0.25 },
                Device = new RigDevice(WorkshopCalibration.DeviceId, "virtual rig", 1, true),
                ZeroCounts = WorkshopCalibration.ZeroCounts,
                NoiseCounts = 30,
                IntervalSeconds = IntervalMicroseconds / 1e6,
            },
            Ending = ending,
            Reason = slips ? Sentence.Verbatim("the force fell over more than 0.3 s") : Sentence.None,
            EndedAt = at.AddSeconds(samples.Length * IntervalMicroseconds / 1e6),
            Trace = new RawTrace { Samples = samples, IntervalSeconds = IntervalMicroseconds / 1e6 },
            ZeroReturnCounts = WorkshopCalibration.ZeroCounts + 4,
        };
    }
}
