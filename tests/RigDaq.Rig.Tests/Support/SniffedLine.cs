using System.IO.Pipelines;
using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Links;

namespace RigDaq.Rig.Tests.Support;

/// <summary>A line that keeps what the host has sent over it.</summary>
internal sealed class SniffedLine(IRigLinkOpener inner) : IRigLinkOpener
{
    private readonly List<byte[]> _sent = [];

    public string Name => inner.Name;

    /// <summary>The limits that were sent, the last one last.</summary>
    public IReadOnlyList<SetLimitsCommand> Limits
    {
        get
        {
            lock (_sent) return [.. _sent.Where(p => p[0] == (byte)MessageType.SetLimits).Select(Read)];
        }
    }

    public async ValueTask<IRigLink> OpenAsync(CancellationToken cancellation) => new Link(await inner.OpenAsync(cancellation), Keep);

    private static SetLimitsCommand Read(byte[] payload) =>
        SetLimitsCommand.TryRead(payload, out SetLimitsCommand limits) ? limits : throw new InvalidOperationException("no limits");

    private void Keep(ReadOnlySpan<byte> bytes)
    {
        var decoder = new FrameDecoder();
        lock (_sent)
        {
            while (decoder.TryRead(ref bytes, out ReadOnlySpan<byte> payload)) _sent.Add(payload.ToArray());
        }
    }

    private sealed class Link(IRigLink inner, Action<ReadOnlySpan<byte>> sent) : IRigLink
    {
        public string Name => inner.Name;

        public PipeReader Input => inner.Input;

        public Task<LinkEnd> Closed => inner.Closed;

        public LinkNews News => inner.News;

        public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes)
        {
            sent(bytes.Span);
            return inner.WriteAsync(bytes);
        }

        public void Close(LinkEnd reason) => inner.Close(reason);

        public ValueTask DisposeAsync() => inner.DisposeAsync();
    }
}
