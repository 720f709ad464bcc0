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

    /// <summary>What is lost on the line towards the device, by its type; asked for each frame.</summary>
    public Func<MessageType, bool> IsLost { get; set; } = _ => false;

    /// <summary>The types of all frames that were sent, the last one last.</summary>
    public IReadOnlyList<MessageType> Types
    {
        get
        {
            lock (_sent) return [.. _sent.Select(p => (MessageType)p[0])];
        }
    }

    /// <summary>The limits that were sent, the last one last.</summary>
    public IReadOnlyList<SetLimitsCommand> Limits
    {
        get
        {
            lock (_sent) return [.. _sent.Where(p => p[0] == (byte)MessageType.SetLimits).Select(Read)];
        }
    }

    public async ValueTask<IRigLink> OpenAsync(CancellationToken cancellation) => new Link(await inner.OpenAsync(cancellation), Passes);

    private static SetLimitsCommand Read(byte[] payload) =>
        SetLimitsCommand.TryRead(payload, out SetLimitsCommand limits) ? limits : throw new InvalidOperationException("no limits");

    // The session writes one whole frame at a time.
    private bool Passes(ReadOnlySpan<byte> bytes)
    {
        var decoder = new FrameDecoder();
        bool passes = true;
        while (decoder.TryRead(ref bytes, out ReadOnlySpan<byte> payload))
        {
            lock (_sent) _sent.Add(payload.ToArray());
            passes &= !IsLost((MessageType)payload[0]);
        }

        return passes;
    }

    private delegate bool Passing(ReadOnlySpan<byte> bytes);

    private sealed class Link(IRigLink inner, Passing passes) : IRigLink
    {
        public string Name => inner.Name;

        public PipeReader Input => inner.Input;

        public Task<LinkEnd> Closed => inner.Closed;

        public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes) => passes(bytes.Span) ? inner.WriteAsync(bytes) : ValueTask.CompletedTask;

        public void Close(LinkEnd reason) => inner.Close(reason);

        public ValueTask DisposeAsync() => inner.DisposeAsync();
    }
}
