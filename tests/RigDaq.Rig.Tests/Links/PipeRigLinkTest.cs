using System.IO.Pipelines;
using Microsoft.Extensions.Time.Testing;
using RigDaq.Rig.Links;

namespace RigDaq.Rig.Tests.Links;

public sealed class PipeRigLinkTest
{
    [Fact]
    public async Task A_write_that_nobody_takes_ends_the_link_after_its_bound()
    {
        var time = new FakeTimeProvider();
        var toDevice = new Pipe(new PipeOptions(pauseWriterThreshold: 8, resumeWriterThreshold: 4));
        var link = new PipeRigLink("test", new Ends(new Pipe().Reader, toDevice.Writer), time);
        Task write = link.WriteAsync(new byte[64]).AsTask();
        Assert.False(write.IsCompleted);
        time.Advance(LinkTimes.WriteMax + TimeSpan.FromMilliseconds(1));
        await Assert.ThrowsAsync<IOException>(() => write);
        Assert.Equal(LinkEndKind.WriteFailed, (await link.Closed).Kind);
    }

    [Fact]
    public async Task The_end_of_the_other_side_ends_the_link()
    {
        var toHost = new Pipe();
        var link = new PipeRigLink("test", new Ends(toHost.Reader, new Pipe().Writer));
        await toHost.Writer.CompleteAsync();
        ReadResult read = await link.Input.ReadAsync(TestContext.Current.CancellationToken);
        Assert.True(read.IsCompleted);
        Assert.Equal(LinkEndKind.Vanished, (await link.Closed).Kind);
    }

    [Fact]
    public async Task Closing_it_here_wakes_a_reader_that_waits()
    {
        var link = new PipeRigLink("test", new Ends(new Pipe().Reader, new Pipe().Writer));
        Task<ReadResult> waiting = link.Input.ReadAsync(TestContext.Current.CancellationToken).AsTask();
        await link.DisposeAsync();
        Assert.True((await waiting).IsCompleted);
        Assert.Equal(LinkEndKind.ClosedHere, (await link.Closed).Kind);
    }

    private sealed record Ends(PipeReader Input, PipeWriter Output) : IDuplexPipe;
}
