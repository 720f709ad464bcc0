using RigDaq.Rig.Links;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.Control;

/// <summary>Opens the link, and opens it again for as long as it is wanted, with a wait that doubles up to a bound.</summary>
internal sealed class LinkKeeper(IRigLinkOpener opener, ControlInbox inbox, FramePool pool, TimeProvider time, Action<FramePump> opened,
    Action<Sentence> failed)
{
    private volatile bool _wasGood;

    /// <summary>The link that is open now is a good one: the next failure starts with the first wait again.</summary>
    public void NoteGood() => _wasGood = true;

    /// <summary>Runs until cancelled.</summary>
    public async Task RunAsync(CancellationToken cancellation)
    {
        TimeSpan wait = LinkTimes.ReopenFirst;
        while (!cancellation.IsCancellationRequested)
        {
            try
            {
                await UseOneAsync(cancellation).ConfigureAwait(false);
                if (_wasGood) wait = LinkTimes.ReopenFirst;
                _wasGood = false;
            }
            catch (OperationCanceledException) when (cancellation.IsCancellationRequested)
            {
                return;
            }
            catch (Exception e)
            {
                // An opener may fail in any way; the rig stays unconnected and says why.
                inbox.Post(() => failed(e is LinkOpenException known ? known.Words : RigText.CannotBeOpened(opener.Name, e.Message)));
            }

            try
            {
                await Task.Delay(wait, time, cancellation).ConfigureAwait(false);
            }
            catch (OperationCanceledException)
            {
                return;
            }

            wait = wait * 2 < LinkTimes.ReopenMax ? wait * 2 : LinkTimes.ReopenMax;
        }
    }

    private async Task UseOneAsync(CancellationToken cancellation)
    {
        IRigLink link = await opener.OpenAsync(cancellation).ConfigureAwait(false);
        await using (link.ConfigureAwait(false))
        {
            using CancellationTokenRegistration closing =
                cancellation.Register(() => link.Close(new LinkEnd(LinkEndKind.ClosedHere, RigText.WasClosed(link.Name))));
            var pump = new FramePump(link, inbox, pool, time, (opener as PlainDeviceOpener)?.Settings);
            inbox.Post(() => opened(pump));
            await pump.RunAsync().ConfigureAwait(false);
        }
    }
}
