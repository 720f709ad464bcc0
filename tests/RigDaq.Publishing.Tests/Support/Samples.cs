using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;
using RigDaq.Core.Trace;
using RigDaq.Publishing.Messages;
using RigDaq.Tests.Shared;
using RigDaq.Text;

namespace RigDaq.Publishing.Tests.Support;

/// <summary>Nouns of the demo's scenario; the figures are invented and nothing is measured against them.</summary>
internal static class Samples
{
    public static readonly DateTimeOffset At = new(2026, 3, 14, 9, 26, 53, TimeSpan.Zero);

    public static Study Study() => new()
    {
        Id = "alder-birch",
        Name = "Kestrel Lane Workshop: Alder and Birch",
        CreatedAt = At,
        SettingName = "nozzle temperature",
        SettingUnit = "°C",
        Prints = [Print.Of("P1", new GroupKey("Alder", "fan off", 215m))],
        Specimens = [new Specimen { Id = "P1-03", PrintId = "P1", Setting = 215m, Order = 1 }],
    };

    public static Run Run(string id = "0195a3c2-7b1e-7000-8000-00000000002a") => new()
    {
        Head = AnyPull.Head with
        {
            RunId = id,
            StudyId = "alder-birch",
            SpecimenId = "P1-03",
            SequenceId = "0195a3c2-0000-7000-8000-000000000001",
            CalibrationId = "01959f00-0000-7000-8000-000000000007",
            StartedAt = At,
            Device = new RigDevice("00a1b2c3d4e5f607", "bench rig", 3, Simulated: true),
            ZeroCounts = 8123.4,
            NoiseCounts = 11.2,
            StepsPerMillimetre = 400,
        },
        Ending = PullEnding.Broken,
        EndedAt = At.AddSeconds(21.5),
        FirstSampleAt = At.AddSeconds(-1),
        Reading = new TraceReading
        {
            Ending = PullEnding.Broken,
            ContactTimeSeconds = 3.5,
            BreakTimeSeconds = 22,
            PeakForceNewtons = 612.4,
            PeakForceStandardUncertaintyNewtons = 0.6,
            BreakForceNewtons = 601.9,
            LoadingRateNewtonsPerSecond = 38.1,
            ExtensionAtPeakMillimetres = 1.84,
            WorkToBreakJoules = 0.62,
            LoadDrops = [new LoadDrop(11.2, 4.1)],
        },
        Strength = new StrengthResult
        {
            Megapascals = 51.03,
            StandardUncertaintyMegapascals = 0.34,
            RelativeComparisonUncertaintyMegapascals = 0.28,
            AtBreakMegapascals = 50.16,
            AreaSquareMillimetres = 12,
            AreaStandardUncertaintySquareMillimetres = 0.06,
            SectionBasis = "per specimen, width × thickness",
        },
        ZeroShiftNewtons = 0.05,
        RevisedAt = At.AddSeconds(22),
        Warnings = [Sentence.Verbatim("One load drop of 4.1 N before the peak.")],
    };

    public static OutboxMessage Message(int number) => RunMessage.From(Run($"run-{number:000}"), Study()).ToOutbox();

    public static StateMessage State(string state = "pulling") => new()
    {
        Instance = "5f0c2a9be1f14c07a3d2c4b8e6f70912",
        At = At,
        State = state,
        LinkUp = true,
        Simulated = true,
        GuardClosed = true,
        EmergencyStopReleased = true,
        StudyId = "alder-birch",
        SequenceId = "0195a3c2-0000-7000-8000-000000000001",
        SpecimenId = "P1-03",
        RunId = "0195a3c2-7b1e-7000-8000-00000000002a",
        Done = 2,
        Total = 36,
    };

    public static AlarmMessage Alarm(string kind = "link lost") => new()
    {
        At = At,
        Kind = kind,
        Text = "/dev/ttyACM0 at 250000 baud went away: check its cable and power. It is opened again when it is back.",
        Remedy = "Check cable, supply and port. The link is opened again by itself; a sequence stays held until a person goes on.",
        Held = true,
    };
}
