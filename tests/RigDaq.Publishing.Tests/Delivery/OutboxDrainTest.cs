using RigDaq.Core.Runs;
using RigDaq.Publishing.Delivery;
using RigDaq.Publishing.Messages;
using RigDaq.Publishing.Tests.Support;

namespace RigDaq.Publishing.Tests.Delivery;

public sealed class OutboxDrainTest
{
    private readonly MemoryOutbox _outbox = new();
    private readonly Sink _sink = new();

    [Fact]
    public async Task What_was_taken_leaves_in_order()
    {
        for (int i = 0; i < 3; i++) _outbox.Add(Samples.Message(i));
        DrainResult result = await PassAsync();
        Assert.Equal(["rigdaq/r/runs/run-000", "rigdaq/r/runs/run-001", "rigdaq/r/runs/run-002"], _sink.Sent);
        Assert.Equal(0, _outbox.Count);
        Assert.Equal(3, result.Delivered);
    }

    [Fact]
    public async Task What_nobody_listened_for_stays_and_later_ones_of_its_kind_wait_behind_it()
    {
        _sink.Answer = t => t.Contains("/runs/", StringComparison.Ordinal) ? new(PublishOutcome.Unclaimed) : new(PublishOutcome.Taken);
        _outbox.Add(Samples.Message(0));
        _outbox.Add(Samples.Message(1));
        _outbox.Add(new OutboxMessage("calibrations/c", "{}"u8.ToArray(), Retain: false));
        DrainResult result = await PassAsync();
        Assert.Equal(["rigdaq/r/runs/run-000", "rigdaq/r/calibrations/c"], _sink.Sent);
        Assert.Equal(2, _outbox.Count);
        Assert.True(result.Unclaimed);
    }

    [Fact]
    public async Task A_retained_message_has_arrived_when_the_broker_keeps_it()
    {
        _sink.Answer = _ => new(PublishOutcome.Unclaimed);
        _outbox.Add(new OutboxMessage("study", "{}"u8.ToArray(), Retain: true));
        await PassAsync();
        Assert.Equal(0, _outbox.Count);
    }

    [Fact]
    public async Task What_is_refused_stays_and_does_not_block_the_others()
    {
        _sink.Answer = t => t.EndsWith("000", StringComparison.Ordinal) ? new(PublishOutcome.Refused, "NotAuthorized")
            : new(PublishOutcome.Taken);
        _outbox.Add(Samples.Message(0));
        _outbox.Add(Samples.Message(1));
        DrainResult result = await PassAsync();
        Assert.Equal(1, _outbox.Count);
        Assert.Equal("NotAuthorized", result.Refusal);
    }

    [Fact]
    public async Task What_was_in_flight_when_the_link_failed_stays()
    {
        _sink.Answer = t => t.EndsWith("001", StringComparison.Ordinal) ? throw new IOException("gone") : new(PublishOutcome.Taken);
        for (int i = 0; i < 3; i++) _outbox.Add(Samples.Message(i));
        await Assert.ThrowsAsync<IOException>(PassAsync);
        Assert.Equal(2, _outbox.Count);
    }

    [Fact]
    public async Task An_outbox_that_cannot_be_read_is_no_fault_of_the_link()
    {
        _outbox.Add(Samples.Message(0));
        _outbox.Fault = new IOException("The database is damaged.");
        DrainResult result = await PassAsync();
        Assert.Equal("The database is damaged.", result.Unreadable);
        _outbox.Fault = null;
        Assert.Equal(1, (await PassAsync()).Delivered);
    }

    [Fact]
    public async Task A_named_consumer_gets_what_it_has_not_had_though_somebody_else_had_it()
    {
        var drain = new OutboxDrain(_outbox, new Topics("r"), ["lake", "sheet"]);
        _sink.Answer = t => t.Contains("/lake/", StringComparison.Ordinal) ? new(PublishOutcome.Unclaimed) : new(PublishOutcome.Taken);
        for (int i = 0; i < 2; i++) _outbox.Add(Samples.Message(i));
        await drain.PassAsync(_sink, TestContext.Current.CancellationToken);
        Assert.Equal(2, _outbox.Count);
        Assert.Equal(
            ["rigdaq/r/runs/run-000", "rigdaq/r/consumers/lake/runs/run-000", "rigdaq/r/consumers/sheet/runs/run-000",
                "rigdaq/r/runs/run-001", "rigdaq/r/consumers/sheet/runs/run-001"],
            _sink.Sent);
        _sink.Sent.Clear();
        _sink.Answer = _ => new(PublishOutcome.Taken);
        await drain.PassAsync(_sink, TestContext.Current.CancellationToken);
        // In order, and nobody gets again what they have had.
        Assert.Equal(["rigdaq/r/consumers/lake/runs/run-000", "rigdaq/r/consumers/lake/runs/run-001"], _sink.Sent);
        Assert.Equal(0, _outbox.Count);
    }

    [Fact]
    public async Task What_a_named_consumer_has_had_it_does_not_get_again_after_a_start()
    {
        _sink.Answer = t => t.Contains("/lake/", StringComparison.Ordinal) ? new(PublishOutcome.Unclaimed) : new(PublishOutcome.Taken);
        for (int i = 0; i < 2; i++) _outbox.Add(Samples.Message(i));
        await new OutboxDrain(_outbox, new Topics("r"), ["lake", "sheet"]).PassAsync(_sink, TestContext.Current.CancellationToken);
        _sink.Sent.Clear();
        _sink.Answer = _ => new(PublishOutcome.Taken);
        await new OutboxDrain(_outbox, new Topics("r"), ["lake", "sheet"]).PassAsync(_sink, TestContext.Current.CancellationToken);
        Assert.Equal(["rigdaq/r/consumers/lake/runs/run-000", "rigdaq/r/consumers/lake/runs/run-001"], _sink.Sent);
        Assert.Equal(0, _outbox.Count);
    }

    [Fact]
    public async Task One_that_is_away_for_long_holds_up_nobody_and_is_given_up_at_last()
    {
        var drain = new OutboxDrain(_outbox, new Topics("r"), ["lake", "sheet"]);
        _sink.Answer = t => t.Contains("/lake/", StringComparison.Ordinal) ? new(PublishOutcome.Unclaimed) : new(PublishOutcome.Taken);
        int all = OutboxDrain.NamedWaitingMax + 10, givenUp = 0;
        for (int i = 0; i < all; i++) _outbox.Add(new OutboxMessage($"runs/{i}", "{}"u8.ToArray(), Retain: false));
        for (int pass = 0; pass < 40; pass++) givenUp += (await drain.PassAsync(_sink, TestContext.Current.CancellationToken)).GivenUp;
        Assert.Equal(all, _sink.Sent.Count(t => t.Contains("/sheet/", StringComparison.Ordinal)));
        Assert.Equal(10, givenUp);
        Assert.Equal(OutboxDrain.NamedWaitingMax, _outbox.Count);
    }

    private Task<DrainResult> PassAsync() =>
        new OutboxDrain(_outbox, new Topics("r")).PassAsync(_sink, TestContext.Current.CancellationToken);

    private sealed class Sink : IMessageSink
    {
        public Func<string, PublishAnswer> Answer { get; set; } = _ => new(PublishOutcome.Taken);

        public List<string> Sent { get; } = [];

        public Task<PublishAnswer> PublishAsync(
            string topic, ReadOnlyMemory<byte> payload, bool retain, CancellationToken cancellation)
        {
            Sent.Add(topic);
            return Task.FromResult(Answer(topic));
        }
    }
}
