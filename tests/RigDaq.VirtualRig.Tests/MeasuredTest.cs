using RigDaq.Core.Pulls;
using RigDaq.Core.Trace;
using RigDaq.Protocol.Messages;

namespace RigDaq.Virtual.Tests;

/// <summary>
/// What the measurement says of pulls whose truth is known: the virtual rig on one side, the reading of traces on the other,
/// only counts between them.
/// </summary>
public class MeasuredTest
{
    private static readonly VirtualSpecimen Brittle = new() { Label = "M", StrengthNewtons = 500 };

    public static TheoryData<string, VirtualSpecimen, PullEnding> Endings => new()
    {
        { "brittle", Brittle, PullEnding.Broken },
        { "yielding", Brittle with { Behaviour = SpecimenBehaviour.Yielding }, PullEnding.Broken },
        { "partial", Brittle with { PartialBreakShare = 0.2 }, PullEnding.PartlyBroken },
        { "slipping", Brittle with { SlipOutShare = 0.6, GripLengthMillimetres = 3 }, PullEnding.SlippedOut },
        { "jumping", Brittle with { GripJumpShare = 0.5, GripJumpMillimetres = 0.1 }, PullEnding.Broken },
        { "too strong", Brittle with { StrengthNewtons = 5000 }, PullEnding.Unbroken },
    };

    [Theory]
    [MemberData(nameof(Endings))]
    public void The_ending_is_told_as_it_was(string kind, VirtualSpecimen specimen, PullEnding ending)
    {
        _ = kind;
        TraceReading reading = Read(Pull(new VirtualRigOptions { SampleRateHertz = 320 }, specimen));
        Assert.Equal(ending, reading.Ending);
        if (kind == "jumping") Assert.Equal(76, Assert.Single(reading.LoadDrops).DepthNewtons, 2.0);
    }

    [Fact]
    public void An_empty_grip_is_no_contact()
    {
        TraceReading reading = Read(Pull(new VirtualRigOptions { SampleRateHertz = 320 }, null));
        Assert.Equal(PullEnding.NoContact, reading.Ending);
    }

    [Theory]
    [InlineData(80, SpecimenBehaviour.Brittle)]
    [InlineData(320, SpecimenBehaviour.Brittle)]
    [InlineData(1000, SpecimenBehaviour.Brittle)]
    [InlineData(320, SpecimenBehaviour.Yielding)]
    [InlineData(1000, SpecimenBehaviour.Yielding)]
    public void The_peak_is_near_the_truth_and_not_to_one_side(double rate, SpecimenBehaviour behaviour)
    {
        double mean = MeanError(rate, behaviour, 0, out double greatest);
        // What a brittle peak can hide is one sample's rise: 759.5 N/mm at 0.5 mm/s. Half of it is added; noise is 0.03 N, creep
        // at most 0.02 %. The mean of many must lie well inside that.
        double perSample = 379.8 / rate;
        Assert.InRange(mean, -(0.15 * perSample) - 0.1, (0.15 * perSample) + 0.1);
        Assert.InRange(greatest, 0, (0.75 * perSample) + 0.3);
    }

    [Theory]
    [InlineData(80)]
    [InlineData(320)]
    [InlineData(1000)]
    public void The_peak_is_near_the_truth_behind_a_converter_that_integrates(double rate)
    {
        // A conversion that the break falls into shows any share of the peak: it belongs to the fall. Real converters do this.
        double mean = MeanError(rate, SpecimenBehaviour.Brittle, 0.5 / rate, out double greatest);
        double perSample = 379.8 / rate;
        Assert.InRange(mean, -(0.25 * perSample) - 0.1, (0.25 * perSample) + 0.1);
        Assert.InRange(greatest, 0, perSample + 0.3);
    }

    private static double MeanError(double rate, SpecimenBehaviour behaviour, double converterDelaySeconds, out double greatest)
    {
        const int pulls = 24;
        var errors = new List<double>();
        for (int i = 0; i < pulls; i++)
        {
            // Strengths that fall anywhere between two samples.
            VirtualSpecimen specimen = Brittle with { Behaviour = behaviour, StrengthNewtons = 400 + (i * 3.137) };
            var options = new VirtualRigOptions
            {
                SampleRateHertz = rate,
                Seed = (ulong)i,
                NonLinearityPercentOfCapacity = 0,
                ConverterDelaySeconds = converterDelaySeconds,
            };
            TraceReading reading = Read(Pull(options, specimen, seconds: behaviour == SpecimenBehaviour.Brittle ? 3 : 6));
            Assert.Equal(PullEnding.Broken, reading.Ending);
            errors.Add(reading.PeakForceNewtons!.Value - specimen.StrengthNewtons);
        }

        greatest = errors.Max(Math.Abs);
        return errors.Average();
    }

    [Fact]
    public void Spikes_change_neither_peak_nor_ending()
    {
        TraceReading clean = Read(Pull(new VirtualRigOptions(), Brittle));
        TraceReading spiked = Read(Pull(new VirtualRigOptions(), Brittle, fault: new VirtualFault.Spikes(20, 400_000, 37)));
        Assert.Equal(PullEnding.Broken, spiked.Ending);
        Assert.Equal(clean.PeakForceNewtons!.Value, spiked.PeakForceNewtons!.Value, 0.5);
        Assert.InRange(spiked.SpikesRemoved, 10, 20);
    }

    [Fact]
    public void Lost_blocks_are_counted_and_the_ending_is_still_told()
    {
        TraceReading reading = Read(Pull(new VirtualRigOptions(), Brittle, fault: new VirtualFault.LostBlocks(2)));
        Assert.Equal(PullEnding.Broken, reading.Ending);
        Assert.InRange(reading.SamplesLost, 8, 30);
    }

    private static TraceReading Read(ForceTrace trace) => TraceAnalysis.Read(trace, new DetectionSettings());

    private static ForceTrace Pull(VirtualRigOptions options, VirtualSpecimen? specimen, double seconds = 12, VirtualFault? fault = null)
    {
        SteppedHost host = new SteppedHost(options with { HasGuard = false, ClampNewtons = 0 }).Prepare();
        host.Run(1.2);
        if (specimen is not null) host.Rig.LoadSpecimen(specimen);
        // A stop in time, before the force passes the cell's range: a person would have set such a limit.
        host.SetLimits(l => l with { ForceCountsMax = (int)(options.ZeroCounts + (950 / options.NewtonsPerCount)) });
        Assert.Equal(AnswerResult.Done, host.Move(0.5).Result);
        if (fault is not null)
        {
            host.Run(0.5);
            host.Rig.Inject(fault);
        }

        host.RunUntil(() => host.Rig.PullsMade > 0 || host.State.Faults != 0, seconds);
        host.Run(0.8);
        long first = host.Samples[0].Number;
        long expected = host.Samples[^1].Number - first + 1;
        double interval = 1 / options.SampleRateHertz;
        return new ForceTrace
        {
            TimesSeconds = [.. host.Samples.Select(s => (s.Number - first) * interval)],
            ForcesNewtons = [.. host.Samples.Select(s => s.Counts * options.NewtonsPerCount)],
            SamplesLost = expected - host.Samples.Count,
            IntervalSeconds = interval,
            ConverterDelaySeconds = host.Hello.ConverterDelayMicroseconds * 1e-6,
        };
    }
}
