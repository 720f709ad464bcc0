using RigDaq.App;
using RigDaq.App.Rigs;
using RigDaq.Text;

namespace RigDaq.Daemon.Tests.Dashboard;

/// <summary>While a sequence is being started no other study is chosen, and the other way round.</summary>
public sealed class SequenceStartGateTest
{
    [Fact]
    public async Task The_second_begins_when_the_first_has_ended_and_a_failure_ends_it_too()
    {
        using var oneAtATime = new SequenceStartGate();
        var held = new TaskCompletionSource<Result>();
        bool begun = false;
        Task<Result> first = oneAtATime.DoAsync(() => held.Task);
        Task<Result> second = oneAtATime.DoAsync(() =>
        {
            begun = true;
            return Task.FromResult(Result.Because(Sentence.Verbatim("second")));
        });
        Assert.False(begun);
        held.SetException(new InvalidOperationException("It does not come through."));
        await Assert.ThrowsAsync<InvalidOperationException>(() => first);
        Assert.Equal("second", (await second).Message);
        Assert.True(begun);
    }
}
