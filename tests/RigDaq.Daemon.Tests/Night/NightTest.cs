namespace RigDaq.Daemon.Tests.Night;

/// <summary>
/// Nights by seeds, as many at once as there are cores. RIGDAQ_NIGHTS says how many (tools/nights.sh runs 200,000),
/// RIGDAQ_NIGHTS_FROM which is the first,
/// RIGDAQ_NIGHT_SEED repeats one.
/// </summary>
[Collection(nameof(Nights))]
public sealed class NightTest(ITestOutputHelper output)
{
    private const int Steps = 320;
    private const int SabotagedNightsMax = 500;

    private static readonly int Count = Environment.GetEnvironmentVariable("RIGDAQ_NIGHTS") is { } asked
        ? int.Parse(asked, System.Globalization.CultureInfo.InvariantCulture) : 2_000;
    private static readonly int From = int.TryParse(Environment.GetEnvironmentVariable("RIGDAQ_NIGHTS_FROM"), out int from) ? from : 0;
    private static readonly int AtOnce = int.TryParse(Environment.GetEnvironmentVariable("RIGDAQ_NIGHTS_AT_ONCE"), out int places) ? places
        : Environment.ProcessorCount;
    private static readonly int? Only = int.TryParse(Environment.GetEnvironmentVariable("RIGDAQ_NIGHT_SEED"), out int seed) ? seed : null;

    [Fact]
    public void Whatever_fails_and_whenever_the_process_dies_all_that_must_hold_holds()
    {
        var sum = new NightSum();
        if (Only is { } one)
        {
            Spend(one, sum);
            output.WriteLine(sum.ToString());
            return;
        }

        Parallel.For(From, From + Count, new ParallelOptions { MaxDegreeOfParallelism = AtOnce }, seed =>
        {
            Spend(seed, sum);
            // So that one who waits for thousands sees how far it has come.
            if (sum.Nights % 1_000 == 0) Console.Error.WriteLine(sum);
        });
        output.WriteLine(sum.ToString());
        Assert.True(sum.Kills > Count / 2 && sum.PowerCuts > Count / 2 && sum.MidStoring > Count / 10 && sum.Broken > Count
            && sum.NotStoredAtFirst > Count / 20 && sum.CutWrites > Count / 20 && sum.SlowWaits > Count / 20,
            $"too little happened to mean anything: {sum}");
    }

    /// <summary>Each is noticed by the invariant that it breaks, and not by another one.</summary>
    [Theory]
    [InlineData(nameof(Sabotage.BridgesTheGuard), "with the guard open")]
    [InlineData(nameof(Sabotage.BridgesTheEmergencyStop), "with the emergency stop pressed")]
    [InlineData(nameof(Sabotage.LooksAwayFromCautions), "nobody has read the cautions")]
    [InlineData(nameof(Sabotage.PullsWithoutCalibration), "without a calibration in force")]
    [InlineData(nameof(Sabotage.WidensTheLimits), "N apart were sent")]
    [InlineData(nameof(Sabotage.KeepsTheDeviceAlive), "without the program's keep-alive")]
    [InlineData(nameof(Sabotage.AcknowledgesWithoutStoring), "was acknowledged and is gone")]
    [InlineData(nameof(Sabotage.RecoversNothing), "began and has no run")]
    [InlineData(nameof(Sabotage.StoresTwice), "as two runs")]
    [InlineData(nameof(Sabotage.LosesTheJournal), "")]
    [InlineData(nameof(Sabotage.ForgetsMessages), "neither waits nor was heard")]
    [InlineData(nameof(Sabotage.DropsUncounted), "counted as dropped")]
    [InlineData(nameof(Sabotage.HasNoBound), "more live blocks wait than may")]
    [InlineData(nameof(Sabotage.PoisonsTheJournal), "torn lines")]
    [InlineData(nameof(Sabotage.RecoversLess), "its trace holds")]
    [InlineData(nameof(Sabotage.WritesOnTheControlThread), "wrote to the disk")]
    [InlineData(nameof(Sabotage.ConfirmsForThePerson), "with hands in")]
    [InlineData(nameof(Sabotage.HurriesThePerson), "after hands were out")]
    [InlineData(nameof(Sabotage.SaysNothing), "nobody is told why")]
    public void The_night_notices_what_is_broken_on_purpose(string sabotage, string words)
    {
        for (int seed = 0; seed < SabotagedNightsMax; seed++)
        {
            try
            {
                using var night = new SimulatedNight(seed, Enum.Parse<Sabotage>(sabotage));
                night.Run(Steps);
            }
            catch (InvariantBrokenException e)
            {
                output.WriteLine($"{sabotage}: noticed in night {seed}: {e.Message}");
                Assert.Contains(words, e.Message, StringComparison.Ordinal);
                return;
            }
        }

        Assert.Fail($"{SabotagedNightsMax} nights went by and nobody noticed: {sabotage}.");
    }

    private static void Spend(int seed, NightSum sum)
    {
        using var night = new SimulatedNight(seed);
        try
        {
            night.Run(Steps);
            sum.Add(night);
        }
        catch (Exception e)
        {
            throw new InvalidOperationException(
                $"Night {seed} failed; repeat it with: RIGDAQ_NIGHT_SEED={seed} dotnet test --project tests/RigDaq.Daemon.Tests --filter-class '*NightTest'. {e.Message}\n{night.History}", e);
        }
    }
}

/// <summary>Nights take every core: nothing that watches the wall clock runs beside them.</summary>
[CollectionDefinition(nameof(Nights), DisableParallelization = true)]
public sealed class Nights;

/// <summary>What happened in all of them.</summary>
internal sealed class NightSum
{
    private readonly Lock _gate = new();

    public int Nights { get; private set; }

    public int Kills { get; private set; }

    public int PowerCuts { get; private set; }

    public int MidStoring { get; private set; }

    public int Begun { get; private set; }

    public int CutWrites { get; private set; }

    public int SlowWaits { get; private set; }

    public int Broken { get; private set; }

    public int Acknowledged { get; private set; }

    public int NotStoredAtFirst { get; private set; }

    public int Disturbances { get; private set; }

    public void Add(SimulatedNight night)
    {
        lock (_gate)
        {
            Nights++;
            Kills += night.Kills;
            PowerCuts += night.PowerCuts;
            MidStoring += night.DeathsInMidStoring;
            CutWrites += night.CutWrites;
            SlowWaits += night.SlowWaits;
            Begun += night.Begun;
            Broken += night.Broken;
            Acknowledged += night.Acknowledged;
            NotStoredAtFirst += night.NotStoredAtFirst;
            Disturbances += night.Disturbances;
        }
    }

    public override string ToString() =>
        $"{Nights} nights: {Begun} pulls begun, {Broken} broken, {Acknowledged} acknowledged, {NotStoredAtFirst} times not stored at first, {Kills} kills, {PowerCuts} power cuts, "
        + $"{MidStoring} of these in the middle of storing, {CutWrites} writes cut off in their middle, {SlowWaits} pulls that a slow disk kept waiting, {Disturbances} other things that went wrong.";
}
