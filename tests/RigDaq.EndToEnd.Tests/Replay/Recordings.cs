using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Rig.Links;
using RigDaq.Virtual;
using RigDaq.Virtual.Machine;

namespace RigDaq.EndToEnd.Tests.Replay;

/// <summary>Makes tests/corpus/recorded with the virtual rig. Run on demand, never with the others: what is recorded stays as it
/// is.</summary>
public sealed class Recordings
{
    /// <summary>How long the zero before a pull is looked at.</summary>
    public const double ZeroSeconds = 0.5;

    private static readonly (string Name, double RateHertz, double TravelLimitMillimetres, VirtualSpecimen Specimen)[] Wanted =
    [
        ("01-broken-80-per-second", 80, 20, Specimen),
        ("02-broken-320-per-second", 320, 20, Specimen with { StrengthNewtons = 620 }),
        ("03-broken-14-per-second", 14, 20, Specimen with { StiffnessNewtonsPerMillimetre = 400 }),
        ("04-drawn-80-per-second", 80, 20, Specimen with { StrengthNewtons = 250, Behaviour = SpecimenBehaviour.Yielding }),
        ("05-partly-broken-320-per-second", 320, 20, Specimen with { PartialBreakShare = 0.25 }),
        ("06-slipped-out-80-per-second", 80, 20, Specimen with { SlipOutShare = 0.6, GripLengthMillimetres = 2 }),
        ("07-unbroken-80-per-second", 80, 0.4, Specimen with { StrengthNewtons = 800 }),
        ("08-grip-jump-320-per-second", 320, 20, Specimen with { GripJumpShare = 0.5 }),
        ("09-no-contact-80-per-second", 80, 0.5, Specimen with { SlackMillimetres = 5 }),
    ];

    private static VirtualSpecimen Specimen => new() { Label = "S1", StrengthNewtons = 400 };

    public static PullSettings Settings(double travelLimitMillimetres) =>
        new() { ZeroSeconds = ZeroSeconds, ReturnSpeedMillimetresPerSecond = 10, TravelLimitMillimetres = travelLimitMillimetres };

    [Fact(Explicit = true)]
    public async Task Are_made_anew_into_the_folder_that_RIGDAQ_RECORD_names()
    {
        string folder = Environment.GetEnvironmentVariable("RIGDAQ_RECORD")
            ?? throw new InvalidOperationException("Set RIGDAQ_RECORD to the folder that recordings go to.");
        ulong seed = 31;
        foreach ((string name, double rateHertz, double travelLimitMillimetres, VirtualSpecimen specimen) in Wanted)
        {
            var options = new VirtualRigOptions { Seed = seed++, TimeScale = 4, StartMillimetres = 3 };
            await using var rig = new VirtualRig(options, TimeProvider.System);
            rig.QueueSpecimens([specimen]);
            (Run run, PullRecord pull, _) = await WholeDaemon.PullOnceAsync(
                new PipeRigLinkOpener("virtual rig", rig.ConnectInProcess), options.NewtonsPerCount, options.NoiseCounts,
                    Settings(travelLimitMillimetres), home: true, rateHertz);
            new RecordedRun(name, HeadOf(run, options, travelLimitMillimetres), pull.Trace.Samples).Write(folder);
        }
    }

    private static RecordedHead HeadOf(Run run, VirtualRigOptions options, double travelLimitMillimetres) => new()
    {
        ConverterBits = options.ConverterBits,
        IntervalSeconds = run.Head.IntervalSeconds,
        StepsPerMillimetre = options.StepsPerMillimetre,
        NewtonsPerCount = options.NewtonsPerCount,
        ZeroCounts = run.Head.ZeroCounts,
        NoiseCounts = run.Head.NoiseCounts,
        TravelLimitMillimetres = travelLimitMillimetres,
        Expected = RecordedReading.Of(run),
    };
}
