using System.IO.Pipelines;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.Links;

/// <summary>Opens a link in this process, for a virtual rig: each opening asks for a new pair of pipes.</summary>
/// <param name="name">For people.</param>
/// <param name="connect">Gives this side of a new connection. It throws an <see cref="IOException"/> where the device is away; its message
/// is shown.</param>
/// <param name="time">For the bound of writes; the system's where null.</param>
public sealed class PipeRigLinkOpener(string name, Func<IDuplexPipe> connect, TimeProvider? time = null) : IRigLinkOpener
{
    /// <inheritdoc/>
    public string Name => name;

    /// <inheritdoc/>
    public ValueTask<IRigLink> OpenAsync(CancellationToken cancellation)
    {
        cancellation.ThrowIfCancellationRequested();
        try
        {
            return ValueTask.FromResult<IRigLink>(new PipeRigLink(name, connect(), time));
        }
        catch (IOException e)
        {
            throw new LinkOpenException(LinkOpenFault.Missing, RigText.IsAway(name, e.Message), e);
        }
    }
}
