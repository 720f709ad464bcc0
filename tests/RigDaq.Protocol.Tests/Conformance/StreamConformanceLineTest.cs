using System.IO.Pipelines;

namespace RigDaq.Protocol.Tests.Conformance;

/// <summary>In wall time, some milliseconds: what is tested is that nothing is lost between two looks at the clock.</summary>
public sealed class StreamConformanceLineTest
{
    private static readonly TimeSpan Slice = TimeSpan.FromMilliseconds(10);

    [Fact]
    public async Task Bytes_that_arrive_while_nobody_waits_come_with_the_next_exchange()
    {
        (Stream host, Pipe toHost, Pipe toDevice) = Line();
        var line = new StreamConformanceLine(host, TimeProvider.System);
        Assert.Equal(0, (await line.ExchangeAsync(new byte[] { 7 }, Slice)).Length); // leaves a read pending
        Assert.Equal(7, (await toDevice.Reader.ReadAsync(TestContext.Current.CancellationToken)).Buffer.FirstSpan[0]);
        await toHost.Writer.WriteAsync(new byte[] { 1, 2 }, TestContext.Current.CancellationToken);
        var arrived = new List<byte>();
        for (int i = 0; i < 500 && arrived.Count < 2; i++) arrived.AddRange((await line.ExchangeAsync(default, Slice)).ToArray());
        Assert.Equal([1, 2], arrived);
    }

    [Fact]
    public async Task The_end_of_the_line_is_said()
    {
        (Stream host, Pipe toHost, _) = Line();
        await toHost.Writer.CompleteAsync();
        var line = new StreamConformanceLine(host, TimeProvider.System);
        IOException ended = await Assert.ThrowsAsync<IOException>(async () => await line.ExchangeAsync(default, TimeSpan.FromSeconds(5)));
        Assert.Contains("The line has ended", ended.Message, StringComparison.Ordinal);
    }

    private static (Stream Host, Pipe ToHost, Pipe ToDevice) Line()
    {
        Pipe toHost = new(), toDevice = new();
        return (new Duplex(toHost.Reader.AsStream(), toDevice.Writer.AsStream()), toHost, toDevice);
    }

    /// <summary>Two one-way streams as one, like a serial port's.</summary>
    private sealed class Duplex(Stream input, Stream output) : Stream
    {
        public override bool CanRead => true;

        public override bool CanSeek => false;

        public override bool CanWrite => true;

        public override long Length => throw new NotSupportedException();

        public override long Position { get => throw new NotSupportedException(); set => throw new NotSupportedException(); }

        public override ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default) =>
            input.ReadAsync(buffer, cancellationToken);

        public override ValueTask WriteAsync(ReadOnlyMemory<byte> buffer, CancellationToken cancellationToken = default) =>
            output.WriteAsync(buffer, cancellationToken);

        public override Task FlushAsync(CancellationToken cancellationToken) => output.FlushAsync(cancellationToken);

        public override void Flush() => output.Flush();

        public override int Read(byte[] buffer, int offset, int count) => input.Read(buffer, offset, count);

        public override void Write(byte[] buffer, int offset, int count) => output.Write(buffer, offset, count);

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();
    }
}
