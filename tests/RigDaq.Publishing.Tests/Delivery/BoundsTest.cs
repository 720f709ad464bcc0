using RigDaq.Publishing.Delivery;

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
        backoff.Reset();
        Assert.Equal(0.5, backoff.Next().TotalSeconds);
    }
}
