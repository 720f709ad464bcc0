using Microsoft.Extensions.Time.Testing;
using RigDaq.Publishing.Broker;
using RigDaq.Publishing.Settings;

namespace RigDaq.Publishing.Tests.Broker;

public sealed class SessionBookTest
{
    private readonly FakeTimeProvider _time = new();
    private readonly SessionBook _book;

    public SessionBookTest() => _book = new SessionBook(new EmbeddedBrokerOptions { AbsentSessionsMax = 2, ClientsMax = 3 }, _time);

    [Fact]
    public void Only_results_and_alarms_of_the_rig_wait_for_who_is_away()
    {
        _book.Came("reader");
        Assert.True(_book.MayQueue("reader", isOurs: false, isPassing: true));
        _book.Went("reader");
        Assert.True(_book.MayQueue("reader", isOurs: true, isPassing: false));
        Assert.False(_book.MayQueue("reader", isOurs: true, isPassing: true));
        Assert.False(_book.MayQueue("reader", isOurs: false, isPassing: false));
    }

    [Fact]
    public void QueuedMax_messages_wait_for_one_who_is_away_and_none_more_until_the_broker_says_that_they_were_taken()
    {
        _book.Came("reader");
        _book.Went("reader");
        for (int i = 0; i < SessionBook.QueuedMax; i++) Assert.True(_book.MayQueue("reader", isOurs: true, isPassing: false));
        Assert.False(_book.MayQueue("reader", isOurs: true, isPassing: false));
        _book.Came("reader");
        // Back, with the queue still full: live force must not push a result out.
        Assert.False(_book.MayQueue("reader", isOurs: true, isPassing: true));
        long waiting = SessionBook.QueuedMax - 1;
        _book.Noted("reader", () => waiting);
        Assert.True(_book.MayQueue("reader", isOurs: true, isPassing: true));
        Assert.True(_book.MayQueue("reader", isOurs: true, isPassing: false));
    }

    [Fact]
    public void A_burst_to_a_reader_that_stands_still_ends_at_QueuedMax_though_nobody_looks_meanwhile()
    {
        _book.Came("stalled");
        long waiting = 0;
        _book.Noted("stalled", () => waiting);
        for (int i = 0; i < SessionBook.QueuedMax; i++, waiting++)
            Assert.True(_book.MayQueue("stalled", isOurs: i % 2 == 0, isPassing: i % 3 == 0));
        Assert.False(_book.MayQueue("stalled", isOurs: false, isPassing: false));
        Assert.False(_book.MayQueue("stalled", isOurs: true, isPassing: true));
        Assert.False(_book.MayQueue("stalled", isOurs: true, isPassing: false));
        waiting--;
        Assert.True(_book.MayQueue("stalled", isOurs: false, isPassing: false));
    }

    [Fact]
    public void A_reader_that_takes_what_comes_loses_nothing_of_a_burst()
    {
        _book.Came("reader");
        _book.Noted("reader", () => 3);
        for (int i = 0; i < 10 * SessionBook.QueuedMax; i++)
            Assert.True(_book.MayQueue("reader", isOurs: true, isPassing: false));
    }

    [Fact]
    public void One_that_has_only_just_come_gets_no_more_than_the_broker_has_room_for()
    {
        _book.Came("new");
        for (int i = 0; i < SessionBook.QueuedMax; i++) Assert.True(_book.MayQueue("new", isOurs: false, isPassing: false));
        Assert.False(_book.MayQueue("new", isOurs: false, isPassing: false));
        int kept = 0;
        while (_book.MayQueue("new", isOurs: true, isPassing: false)) kept++;
        Assert.Equal(BrokerHosting.PendingMessagesMax - 1 - SessionBook.QueuedMax, kept);
    }

    [Fact]
    public void While_memory_is_tight_nothing_of_others_is_queued()
    {
        _book.Came("reader");
        Assert.False(_book.MayQueue("reader", isOurs: false, isPassing: false, isTight: true));
        Assert.True(_book.MayQueue("reader", isOurs: true, isPassing: false, isTight: true));
        Assert.True(_book.MayQueue("reader", isOurs: false, isPassing: false, isTight: false));
    }

    [Fact]
    public void A_client_that_takes_its_session_over_is_connected()
    {
        _book.Came("reader");
        _book.Came("reader");
        _book.Went("reader");
        Assert.True(_book.MayQueue("reader", isOurs: false, isPassing: true));
        _book.Went("reader");
        Assert.False(_book.MayQueue("reader", isOurs: false, isPassing: true));
    }

    [Fact]
    public void Of_too_many_sessions_those_go_that_were_connected_for_the_shortest_time()
    {
        Stay("logger", TimeSpan.FromHours(2));
        for (int i = 0; i < 5; i++) Stay($"flood-{i}", TimeSpan.FromMilliseconds(10));
        string[] there = ["logger", .. Enumerable.Range(0, 5).Select(i => $"flood-{i}")];
        IReadOnlyList<string> ended = _book.ToEnd(there, []);
        Assert.Equal(4, ended.Count);
        Assert.DoesNotContain("logger", ended);
        Assert.Equal(2, _book.Count);
        Assert.Equal(4, _book.Ended);
    }

    [Fact]
    public void While_memory_is_tight_fewer_may_be_away()
    {
        var book = new SessionBook(new EmbeddedBrokerOptions(), _time);
        string[] there = [.. Enumerable.Range(0, 20).Select(i => $"reader-{i}")];
        foreach (string reader in there)
        {
            book.Came(reader);
            _time.Advance(TimeSpan.FromMinutes(1));
            book.Went(reader);
        }

        Assert.Empty(book.ToEnd(there, []));
        Assert.Equal(20 - SessionBook.AbsentWhenTightMax, book.ToEnd(there, [], isTight: true).Count);
        Assert.Equal(SessionBook.AbsentWhenTightMax, book.Count);
    }

    [Fact]
    public void A_session_that_nobody_comes_back_for_ends()
    {
        Stay("logger", TimeSpan.FromHours(2));
        _time.Advance(EmbeddedBrokerOptions.AbsentMax - TimeSpan.FromSeconds(1));
        Assert.Empty(_book.ToEnd(["logger"], []));
        _time.Advance(TimeSpan.FromSeconds(1));
        Assert.Equal(["logger"], _book.ToEnd(["logger"], []));
    }

    [Fact]
    public void What_the_broker_has_ended_itself_is_forgotten_and_an_end_that_was_not_told_is_noticed()
    {
        Stay("guest", TimeSpan.FromSeconds(1));
        _book.Came("lost");
        Assert.Empty(_book.ToEnd(["lost"], []));
        Assert.Equal(1, _book.Count);
        // Not told, but no longer among the clients.
        _time.Advance(TimeSpan.FromMinutes(1));
        _book.ToEnd(["lost"], []);
        Assert.False(_book.MayQueue("lost", isOurs: false, isPassing: false));
    }

    [Fact]
    public void A_new_session_is_refused_only_far_beyond_what_is_kept()
    {
        for (int i = 0; i < 3 + (2 * 2); i++)
        {
            Assert.True(_book.HasRoomFor($"c{i}"));
            Stay($"c{i}", TimeSpan.Zero);
        }

        Assert.False(_book.HasRoomFor("another"));
        Assert.True(_book.HasRoomFor("c0"));
    }

    private void Stay(string id, TimeSpan time)
    {
        _book.Came(id);
        _time.Advance(time);
        _book.Went(id);
    }
}
