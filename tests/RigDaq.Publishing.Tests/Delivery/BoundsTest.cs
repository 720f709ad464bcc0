using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using RigDaq.Publishing.Broker;
using RigDaq.Publishing.Delivery;
using RigDaq.Publishing.Messages;
using RigDaq.Publishing.Settings;
using RigDaq.Publishing.Tests.Support;

namespace RigDaq.Publishing.Tests.Delivery;

public sealed class BoundsTest
{
    [Fact]
    public void A_full_queue_loses_its_oldest_and_counts_it()
    {
        var queue = new LatestQueue<int>(2);
        for (int i = 1; i <= 5; i++) queue.Add(i);
        Assert.True(queue.TryTake(out int first));
        Assert.Equal(4, first);
        Assert.Equal(3, queue.Dropped);
    }

    [Fact]
    public void ConsumersMax_consumers_can_be_named_and_UsersMax_users_and_one_more_is_a_problem()
    {
        string[] names = [.. Enumerable.Range(0, PublishingOptions.ConsumersMax).Select(i => $"c{i}")];
        Assert.Empty(PublishingOptions.ConsumerProblems(names));
        Assert.NotEmpty(PublishingOptions.ConsumerProblems([.. names, "more"]));

        BrokerUser[] users =
            [.. Enumerable.Range(0, EmbeddedBrokerOptions.UsersMax).Select(i => new BrokerUser { User = $"u{i}", Password = "maple" })];
        Assert.Empty(Problems(users));
        Assert.Single(Problems([.. users, new BrokerUser { User = "more", Password = "maple" }]));

        static List<string> Problems(BrokerUser[] users)
        {
            var problems = new List<string>();
            new EmbeddedBrokerOptions { Users = [.. users] }.AddProblems(problems);
            return problems;
        }
    }

    [Fact]
    public void AlarmsMax_alarms_and_BlocksMax_live_blocks_wait_for_a_broker_and_then_the_oldest_goes()
    {
        var results = new ResultsChannel(new MemoryOutbox(), new Topics("r"), [], "i", TimeProvider.System, NullLogger.Instance);
        for (int i = 0; i < ResultsChannel.AlarmsMax; i++) results.Alarms.Add(Samples.Alarm() with { Text = $"{i}" });
        Assert.Equal(0, results.Alarms.Dropped);
        results.Alarms.Add(Samples.Alarm());
        Assert.Equal(1, results.Alarms.Dropped);
        Assert.True(results.Alarms.TryTake(out AlarmMessage? alarm));
        Assert.Equal("1", alarm!.Text);

        var live = new LiveChannel(new Topics("r"), TimeProvider.System);
        for (int i = 0; i < LiveChannel.BlocksMax; i++) live.Add(null!);
        Assert.Equal(0, live.Blocks.Dropped);
        live.Add(null!);
        Assert.Equal(1, live.Blocks.Dropped);
    }

    [Fact]
    public void ForeignBytesMax_bytes_are_taken_at_once_and_ForeignBytesPerSecond_grow_back()
    {
        var time = new FakeTimeProvider();
        var allowance = new ByteAllowance(EmbeddedBrokerOptions.ForeignBytesMax, EmbeddedBrokerOptions.ForeignBytesPerSecond, time);
        Assert.False(allowance.TryTake(EmbeddedBrokerOptions.ForeignBytesMax + 1));
        Assert.True(allowance.TryTake(EmbeddedBrokerOptions.ForeignBytesMax));
        Assert.False(allowance.TryTake(1));
        time.Advance(TimeSpan.FromSeconds(2));
        Assert.False(allowance.TryTake((2 * EmbeddedBrokerOptions.ForeignBytesPerSecond) + 1));
        Assert.True(allowance.TryTake(2 * EmbeddedBrokerOptions.ForeignBytesPerSecond));
        time.Advance(TimeSpan.FromHours(1));
        Assert.False(allowance.TryTake(EmbeddedBrokerOptions.ForeignBytesMax + 1));
    }

    [Fact]
    public void What_could_not_be_sent_goes_back_to_the_front()
    {
        var queue = new LatestQueue<int>(3);
        queue.Add(1);
        queue.Add(2);
        Assert.True(queue.TryTake(out int one));
        queue.Return(one);
        Assert.True(queue.TryTake(out int again));
        Assert.Equal(1, again);
    }

    [Fact]
    public void Waits_double_up_to_half_a_minute_and_begin_anew_after_a_success()
    {
        var backoff = new Backoff();
        double[] waits = [.. Enumerable.Range(0, 9).Select(_ => backoff.Next().TotalSeconds)];
        Assert.Equal([0.5, 1, 2, 4, 8, 16, 30, 30, 30], waits);
        Assert.Equal(Backoff.Longest.TotalSeconds, waits.Max());
        backoff.Reset();
        Assert.Equal(0.5, backoff.Next().TotalSeconds);
    }
}
