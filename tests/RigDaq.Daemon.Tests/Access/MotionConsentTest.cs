using Microsoft.Extensions.Time.Testing;
using RigDaq.App.Access;
using RigDaq.App.Callers;

namespace RigDaq.Daemon.Tests.Access;

/// <summary>What waits at the rig is bounded and lapses.</summary>
public sealed class MotionConsentTest
{
    private static readonly Caller Ida = new("Ida", "192.0.2.7", CallerRole.Operate);
    private readonly FakeTimeProvider _time = new();

    [Fact]
    public async Task It_lapses_after_AskedFor()
    {
        var consent = new MotionConsent(_time);
        Task<bool?> asked = consent.AskAsync(Ida, "findHome", CancellationToken.None);
        _time.Advance(MotionConsent.AskedFor - TimeSpan.FromTicks(1));
        Assert.False(asked.IsCompleted);
        _time.Advance(TimeSpan.FromTicks(1));
        Assert.False(await asked);
        Assert.Empty(consent.Asked);
    }

    [Fact]
    public async Task AskedMax_wait_and_a_further_one_is_sent_away()
    {
        var consent = new MotionConsent(_time);
        var waiting = new List<Task<bool?>>();
        for (int i = 0; i < MotionConsent.AskedMax; i++) waiting.Add(consent.AskAsync(Ida, "findHome", CancellationToken.None));
        Assert.Null(await consent.AskAsync(Ida, "findHome", CancellationToken.None));
        consent.RefuseAll();
        Assert.All(await Task.WhenAll(waiting), answer => Assert.False(answer));
    }

    [Fact]
    public async Task Who_goes_away_asks_no_longer_and_nothing_is_answered_twice()
    {
        var consent = new MotionConsent(_time);
        using var gone = new CancellationTokenSource();
        Task<bool?> asked = consent.AskAsync(Ida, "findHome", gone.Token);
        int id = Assert.Single(consent.Asked).Id;
        await gone.CancelAsync();
        Assert.False(await asked);
        Assert.False(consent.Answer(id, true));
    }
}
