using RigDaq.Rig.Sequencing;

namespace RigDaq.Rig.Tests.Sequencing;

public sealed class SequencerUnderFaultsTest
{
    private const int StepsMax = 40_000;

    private static readonly int Seeds = Environment.GetEnvironmentVariable("RIGDAQ_LONG") == "1" ? 50_000 : 2_000;

    [Theory]
    [InlineData(WorldKind.Feeder)]
    [InlineData(WorldKind.Guard)]
    [InlineData(WorldKind.NeitherGuardNorFeeder)]
    [InlineData(WorldKind.TurnedByHand)]
    public void Whatever_fails_at_any_step_nothing_moves_against_an_interlock_each_pull_ends_once_and_no_zero_holds_a_piece(WorldKind kind)
    {
        int faults = 0, pulls = 0, zeros = 0, asked = 0;
        for (int seed = 0; seed < Seeds; seed++)
        {
            var world = new SequenceWorld(kind, seed, specimens: 4, faultShare: 0.05 + (0.1 * (seed % 3)));
            try
            {
                world.Run(600);
                world.EndTheProgram();
            }
            catch (Exception e)
            {
                throw new InvalidOperationException($"Seed {seed} of {kind}: {e.Message} (at {world.State.Stage}, {world.State.Step}: {world.State.Reason})\n{string.Join('\n', world.Trace.TakeLast(40))}", e);
            }

            Assert.All(world.Pulls, p => Assert.True(p.Value.Ended == 1, $"seed {seed}: {p.Key} ended {p.Value.Ended} times"));
            Assert.Equal(SequenceStage.Finished, world.State.Stage);
            faults += world.FaultsInjected;
            pulls += world.Pulls.Count;
            zeros += world.ZerosTaken;
            asked += world.OpenGripsAsked;
        }

        Assert.True(faults > Seeds, "too few faults to mean anything");
        Assert.True(pulls > Seeds, "too few pulls to mean anything");
        Assert.True(zeros > Seeds && asked > Seeds / 4, "too few zeros to mean anything");
    }

    [Theory]
    [InlineData(WorldKind.Feeder)]
    [InlineData(WorldKind.Guard)]
    [InlineData(WorldKind.NeitherGuardNorFeeder)]
    [InlineData(WorldKind.TurnedByHand)]
    public void After_the_faults_a_person_who_does_what_is_shown_always_gets_to_the_end(WorldKind kind)
    {
        for (int seed = 0; seed < Seeds / 4; seed++)
        {
            var world = new SequenceWorld(kind, seed, specimens: 3, faultShare: 0.2);
            world.Run(200);
            world.MayInject = false;
            world.Run(StepsMax);
            Assert.True(
                world.State.Stage == SequenceStage.Finished,
                $"Seed {seed} of {kind} hangs at {world.State.Stage}, {world.State.Step}: {world.State.Reason}");
        }
    }

    [Theory]
    [InlineData(WorldKind.Feeder)]
    [InlineData(WorldKind.Guard)]
    public void A_whole_night_of_two_hundred_specimens_runs_to_its_end_and_ends_each_pull_once(WorldKind kind)
    {
        var world = new SequenceWorld(kind, seed: 7, specimens: 200, faultShare: 0);
        world.Run(StepsMax);
        Assert.Equal(SequenceStage.Finished, world.State.Stage);
        Assert.True(world.State.Specimens.Count(s => s.State == SpecimenState.Pulled) > 150);
        Assert.All(world.Pulls, p => Assert.Equal(1, p.Value.Ended));
    }
}
