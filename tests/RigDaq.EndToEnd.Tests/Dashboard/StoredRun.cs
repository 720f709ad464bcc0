using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.Core.Specimens;
using RigDaq.Tests.Shared;
using RigDaq.Text;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>One invented pull in the page's archive: 1 s of rest, 3 s up to 600 N, a break, half a second of rest; 0.001 N a
/// count.</summary>
internal static class StoredRun
{
    public const string Id = "0190a0a0-0000-7000-8000-000000000001";
    public const string Specimen = "P1-01";

    public static Run Store(PageHost host, BenchInputs? bench = null, bool channels = false) => Store(host.Archive, bench, channels);

    /// <summary>Stores it; on a rig with an extensometer and a thermometer where wanted.</summary>
    public static Run Store(RigArchive archive, BenchInputs? bench = null, bool channels = false)
    {
        var group = new GroupKey("Alder", "fan off", 205m);
        var study = new Study
        {
            Id = "alder-birch",
            Name = "Alder and Birch",
            CreatedAt = DateTimeOffset.UnixEpoch,
            SettingName = "nozzle temperature",
            SettingUnit = "°C",
            Prints =
                [Print.Of("P1", group) with
                { Record = new PrintRecord
                { Drying = [new DryingSpell { SetTemperatureCelsius = 50, MeasuredTemperatureCelsius = 53, Hours = 6 }] } }],
            Specimens =
                [new Specimen { Id = Specimen, PrintId = "P1", Setting = group.Setting, Order = 1, Section = new SectionMeasurement
                { WidthsMillimetres = [6.01, 6.03], ThicknessesMillimetres = [1.99, 2.02] } }],
        };
        var calibration = new CalibrationRecord
        {
            Id = "calibration-1",
            DeviceId = "00a1b2c3d4e5f607",
            AcceptedAt = DateTimeOffset.UnixEpoch,
            ValidUntil = DateTimeOffset.MaxValue,
            Curve = new ForceCurve([0.001]),
            GreatestReferenceNewtons = 490,
            Uncertainty = new UncertaintyModel
            {
                Coefficients = [0.001],
                ScatterCovariance = [[1e-14]],
                ScatterDegreesOfFreedom = 14,
                ReferenceShifts = [],
                GreatestReferenceNewtons = 490,
                ResolutionCounts = 50,
                ReversibilityNewtons = [new ForcePoint(490, 0.3)],
                ZeroDriftNewtons = 0.05,
                CreepPercent = 0.02,
            },
        };
        archive.Studies.Save(study, "made");
        archive.Calibrations.Save(calibration);
        PullRecord pull = channels ? WithChannels(Pull()) : Pull();
        pull = pull with { Head = pull.Head with { Bench = bench } };
        Run run = RunCalculation.Calculate(pull, study, calibration, DateTimeOffset.UnixEpoch);
        archive.Runs.Store(run, pull, []);
        return run;
    }

    private static PullRecord WithChannels(PullRecord pull)
    {
        // 2,000 N/mm over the gauge: 0.3 mm at 600 N; what stays stretched afterwards is nothing.
        var noise = new Random(6);
        ChannelHead extension = new()
        {
            Index = 0,
            Kind = ChannelHead.Extension,
            Name = "Extensometer",
            Unit = "mm",
            Divider = 1,
            Zero = 0,
            Numerator = 1,
            Denominator = 100_000,
            RawMin = -500_000,
            RawMax = 500_000,
        };
        ChannelHead temperature = extension with
        {
            Index = 1,
            Kind = ChannelHead.Temperature,
            Name = "",
            Unit = "°C",
            Divider = 100,
            Denominator = 256
        };
        return pull with
        {
            Head = pull.Head with { Channels = [extension, temperature] },
            Trace = pull.Trace with
            {
                Channels =
                [
                    new ChannelTrace(0,
                        [.. pull.Trace.Samples
                        .Select(s => new ChannelSample(s.Number, (int)(Math.Max(0, s.Counts) * 0.001 / 2000 * 100_000)
                        + noise.Next(-30, 31)))]),
                    new ChannelTrace(1,
                        [.. pull.Trace.Samples.Where((_, i) => i % 100 == 0)
                        .Select(s => new ChannelSample(s.Number, 5_900 + noise.Next(-3, 4)))]),
                ],
            },
        };
    }

    private static PullRecord Pull()
    {
        const double Interval = 0.002;
        var noise = new Random(5);
        List<RawSample> samples = [];
        for (int i = 0; i < 2250; i++)
        {
            double time = i * Interval;
            double newtons = time < 1 || time >= 4 ? 0 : 200 * (time - 1);
            samples.Add(new RawSample(i, (long)(time * 1e6), (int)(newtons / 0.001) + noise.Next(-60, 61), 0));
        }

        return new PullRecord
        {
            Head = AnyPull.Head with
            {
                RunId = Id,
                StudyId = "alder-birch",
                SpecimenId = Specimen,
                SequenceId = "sequence-1",
                CalibrationId = "calibration-1",
                Device = new RigDevice("00a1b2c3d4e5f607", "bench rig", 3, true),
                NoiseCounts = 35,
                IntervalSeconds = Interval,
            },
            Ending = PullEnding.Broken,
            Reason = Sentence.None,
            EndedAt = DateTimeOffset.UnixEpoch,
            Trace = new RawTrace { Samples = samples, IntervalSeconds = Interval },
        };
    }
}
