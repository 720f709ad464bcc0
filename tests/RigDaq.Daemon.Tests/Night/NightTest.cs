namespace RigDaq.Daemon.Tests.Night;

/// <summary>
/// Nights by seeds. RIGDAQ_NIGHTS says how many (tools/nights.sh runs 200,000), RIGDAQ_NIGHT_SEED repeats one.
/// </summary>
public sealed class NightTest(ITestOutputHelper output)
{
    private const int Steps = 240;
    private const int SabotagedNightsMax = 40;

    private static readonly int Nights = int.TryParse(Environment.GetEnvironmentVariable("RIGDAQ_NIGHTS"), out int asked) ? asked : 300;
    private static readonly int? Only = int.TryParse(Environment.GetEnvironmentVariable("RIGDAQ_NIGHT_SEED"), out int seed) ? seed : null;

    [Fact]
    public void Whatever_fails_and_whenever_the_process_dies_each_pull_has_one_run_and_no_acknowledged_result_is_lost()
    {
        int kills = 0, cuts = 0, begun = 0, acknowledged = 0, again = 0;
        int[] seeds = Only is { } one ? [one] : [.. Enumerable.Range(0, Nights)];
        foreach (int seed in seeds)
        {
            using var night = new SimulatedNight(seed);
            try
            {
                night.Run(Steps);
            }
            catch (Exception e)
            {
                throw new InvalidOperationException(
                    $"Night {seed} failed; repeat it with: RIGDAQ_NIGHT_SEED={seed} dotnet test --project tests/RigDaq.Daemon.Tests --filter-class '*NightTest'. {e.Message}", e);
            }

            kills += night.Kills;
            cuts += night.PowerCuts;
            begun += night.Begun;
            acknowledged += night.Acknowledged;
            again += night.NotStoredAtFirst;
        }

        output.WriteLine($"{seeds.Length} nights: {begun} pulls begun, {acknowledged} acknowledged, {again} times not stored at first, {kills} kills, {cuts} power cuts.");
        if (Only is not null) return;
        Assert.True(kills > seeds.Length && cuts > seeds.Length && begun > 2 * seeds.Length && again > seeds.Length / 10, "too little happened to mean anything");
    }

    [Theory]
    [InlineData(nameof(Sabotage.AcknowledgesWithoutStoring))]
    [InlineData(nameof(Sabotage.RecoversNothing))]
    [InlineData(nameof(Sabotage.ForgetsMessages))]
    [InlineData(nameof(Sabotage.LosesTheJournal))]
    public void The_night_notices_what_is_broken_on_purpose(string sabotage)
    {
        for (int seed = 0; seed < SabotagedNightsMax; seed++)
        {
            try
            {
                using var night = new SimulatedNight(seed, Enum.Parse<Sabotage>(sabotage));
                night.Run(Steps);
            }
            catch (Exception e)
            {
                output.WriteLine($"{sabotage}: noticed in night {seed}: {e.Message}");
                return;
            }
        }

        Assert.Fail($"{SabotagedNightsMax} nights went by and nobody noticed: {sabotage}.");
    }
}
