using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;
using RigDaq.Core.Trace;
using RigDaq.Text;

namespace RigDaq.Archive.Tests;

/// <summary>Invented records; what is stored matters here, not what it means.</summary>
internal static class Example
{
    public static readonly DateTimeOffset Start = new(2026, 11, 2, 9, 30, 0, 123, TimeSpan.FromHours(1));

    public static RawSample[] Samples(int count, int seed = 1)
    {
        var random = new Random(seed);
        var samples = new RawSample[count];
        long number = 4_000_000_000 + seed;
        long stamp = 77_000_000_000;
        for (int i = 0; i < count; i++)
        {
            number += random.Next(200) == 0 ? 3 : 1;
            stamp += 12_500 + random.Next(-3, 4);
            int counts = (int)(8_000 + (Math.Min(i, count * 3 / 4) * 900.0) + random.Next(-40, 41));
            samples[i] = new RawSample(number, stamp, Math.Min(counts, 8_388_607), i * 2);
        }

        return samples;
    }

    public static PullHead Head(int number, string study = "alder-fan") => new()
    {
        RunId = Guid.CreateVersion7(Start.AddSeconds(number)).ToString(),
        StudyId = study,
        SpecimenId = $"A1-{number}",
        SequenceId = "night 1",
        CalibrationId = "calibration-1",
        StartedAt = Start.AddSeconds(number),
        Settings = new PullSettings { SpeedMillimetresPerSecond = 0.25 },
        Device = new RigDevice("00112233445566aa", "Bench \"two\"", 3, true),
        ZeroCounts = 8_000.25,
        NoiseCounts = 21.5,
        IntervalSeconds = 0.0125,
        StepsPerMillimetre = 400,
        ConverterDelaySeconds = 0.025,
    };

    public static PullRecord Pull(PullHead head, int samples = 400) => new()
    {
        Head = head,
        Ending = PullEnding.Broken,
        Reason = Sentence.None,
        EndedAt = head.StartedAt.AddSeconds(20),
        ZeroReturnCounts = 8_003.125,
        Trace = new RawTrace
        {
            Samples = Samples(samples, head.RunId.GetHashCode(StringComparison.Ordinal)),
            IntervalSeconds = head.IntervalSeconds,
            StepsPerMillimetre = head.StepsPerMillimetre,
            ConverterDelaySeconds = head.ConverterDelaySeconds,
        },
    };

    /// <summary>The same pull of a rig with an extensometer and a thermometer.</summary>
    public static PullRecord WithChannels(PullRecord pull)
    {
        ChannelHead extension = new()
        {
            Index = 0,
            Kind = ChannelHead.Extension,
            Name = "Knives, \"long\"",
            Unit = "mm",
            Divider = 1,
            Zero = -20,
            Numerator = 1,
            Denominator = 10_000,
            RawMin = -100_000,
            RawMax = 100_000,
        };
        ChannelHead temperature = extension with
        {
            Index = 5,
            Kind = ChannelHead.Temperature,
            Name = "",
            Unit = "°C",
            Divider = 50,
            Zero = 0,
            Denominator = 256,
            DelaySeconds = 0.1
        };
        PullHead head = pull.Head with { Channels = [extension, temperature] };
        return pull with
        {
            Head = head,
            Trace = pull.Trace with
            {
                Channels =
                [
                    new ChannelTrace(0,
                        [.. pull.Trace.Samples
                        .Select((sample, i) => new ChannelSample(sample.Number, i % 90 == 7 ? ChannelHead.NoValue : (i * 3) - 20))]),
                    new ChannelTrace(5,
                        [.. pull.Trace.Samples.Where((_, i) => i % 50 == 0).Select(sample => new ChannelSample(sample.Number, 5_900))]),
                ],
            },
        };
    }

    /// <summary>How a pull ended whose samples are in its capture already.</summary>
    public static PullRecord Ended(PullHead head) => Pull(head, 0);

    public static Run Run(PullRecord pull) => new()
    {
        Head = pull.Head,
        Ending = pull.Ending,
        Reason = pull.Reason,
        EndedAt = pull.EndedAt,
        RevisedAt = pull.EndedAt.AddMilliseconds(40),
        ZeroShiftNewtons = 0.0625,
        Reading = new TraceReading
        {
            Ending = pull.Ending,
            PeakForceNewtons = pull.Trace.Samples.Count == 0 ? null : pull.Trace.Samples.Max(sample => sample.Counts) * 1e-4,
            LoadDrops = [new LoadDrop(1.5, 3.25)],
            Warnings = [Sentence.Verbatim("look at this")],
        },
        Strength = new StrengthResult
        {
            Megapascals = 41.7,
            StandardUncertaintyMegapascals = 0.4,
            RelativeComparisonUncertaintyMegapascals = 0.3,
            AreaSquareMillimetres = 16.1,
            AreaStandardUncertaintySquareMillimetres = 0.05,
            SectionBasis = "per specimen",
        },
        Warnings = [Sentence.Verbatim("look at this")],
    };

    public static OutboxMessage[] Messages(PullHead head) =>
        [new($"runs/{head.RunId}", System.Text.Encoding.UTF8.GetBytes("{\"n\":1}"), false), new("last", [1, 2, 3], true)];

    public static Study Study(string id = "alder-fan") => new()
    {
        Id = id,
        Name = "Alder, fan off and on",
        CreatedAt = Start,
        SettingName = "nozzle temperature",
        SettingUnit = "°C",
        Prints = [Print.Of("A1", new GroupKey("Alder", "fan off", 210.5m))],
        Specimens =
        [
            new Specimen
            {
                Id = "A1-1",
                PrintId = "A1",
                Setting = 210.5m,
                Order = 1,
                Section = new SectionMeasurement { WidthsMillimetres = [4.01, 4.02], ThicknessesMillimetres = [4.0] },
            },
        ],
        Seed = ulong.MaxValue,
    };

    public static CalibrationRecord Calibration(string id = "calibration-1") => new()
    {
        Id = id,
        DeviceId = "00112233445566aa",
        AcceptedAt = Start,
        ValidUntil = Start.AddYears(1),
        Curve = new ForceCurve([1.2345678901234567e-4]),
        GreatestReferenceNewtons = 49.03,
    };

    /// <summary>Stores one more run.</summary>
    public static Run Store(RigArchive archive, int number, int samples = 400, string study = "alder-fan")
    {
        PullRecord pull = Pull(Head(number, study), samples);
        Run run = Run(pull);
        archive.Runs.Store(run, pull, Messages(pull.Head));
        return run;
    }
}
