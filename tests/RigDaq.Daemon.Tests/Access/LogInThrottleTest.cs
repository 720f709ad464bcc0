using Microsoft.Extensions.Time.Testing;
using RigDaq.Web.Access;

namespace RigDaq.Daemon.Tests.Access;

/// <summary>Guessing gets slower for an address, and does not lock an account out.</summary>
public sealed class LogInThrottleTest
{
    private readonly FakeTimeProvider _time = new();

    [Fact]
    public void FreeMax_wrong_ones_are_free_and_each_further_one_doubles_the_wait_up_to_AddressWaitMax()
    {
        var throttle = new LogInThrottle(_time);
        for (int i = 1; i < LogInThrottle.FreeMax; i++) throttle.WasWrong(1, "ida");
        Assert.Null(throttle.WaitOf(1, "ida"));
        double before = 0.5;
        for (int i = 0; i < 12; i++)
        {
            throttle.WasWrong(1, "of " + i);
            double now = throttle.WaitOf(1, "nobody")!.Value.TotalSeconds;
            Assert.Equal(Math.Min(before * 2, LogInThrottle.AddressWaitMax.TotalSeconds), now);
            before = now;
        }

        _time.Advance(LogInThrottle.AddressWaitMax);
        Assert.Null(throttle.WaitOf(1, "nobody"));
    }

    [Fact]
    public void An_account_waits_no_longer_than_AccountWaitMax_for_what_others_guessed_and_is_free_after_a_right_one()
    {
        var throttle = new LogInThrottle(_time);
        for (uint i = 0; i < 100; i++) throttle.WasWrong(i, "ida");
        Assert.Equal(LogInThrottle.AccountWaitMax, throttle.WaitOf(1_000, "ida"));
        throttle.WasRight("ida");
        Assert.Null(throttle.WaitOf(1_000, "ida"));
    }

    [Fact]
    public void RememberedMax_are_remembered_and_the_oldest_forgotten_first()
    {
        var throttle = new LogInThrottle(_time);
        for (int i = 0; i < LogInThrottle.FreeMax; i++) throttle.WasWrong(0, "first");
        Assert.NotNull(throttle.WaitOf(0, "first"));
        for (uint i = 1; i <= LogInThrottle.RememberedMax; i++)
        {
            _time.Advance(TimeSpan.FromMicroseconds(1));
            throttle.WasWrong(i, "other " + i);
        }

        Assert.Null(throttle.WaitOf(0, "first"));
    }
}
