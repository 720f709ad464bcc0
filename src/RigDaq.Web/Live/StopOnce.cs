using RigDaq.App.Access;
using RigDaq.App.Journal;
using RigDaq.Rig.Control;

namespace RigDaq.Web.Live;

/// <summary>Obeys every stop, and tells the copies of one from a new one: the page sends each press three ways under one id that it draws
/// for that press. Safe for several threads.</summary>
/// <remarks>Why a copy need not be obeyed again: the first one has stopped the rig already, and whatever moves since then a person has let
/// go on deliberately and later than the press. A copy that comes after that says nothing new; obeyed, it would hold what was just let go
/// on, and a person learns to press on against a stop. Every doubt stops: no id, an id that is not known (any more), a first copy that did
/// not come through. The limit: who sends a new press under an old id within <see cref="CopyTime"/> is not heard by this way, so a client
/// of its own sends no id at all, or a new one each time.</remarks>
internal sealed class StopOnce(ILiveRig rig, MotionConsent consent, TimeProvider time, HappeningBook? book = null)
{
    /// <summary>A copy that is later than this counts as a new stop; the page gives a request up after three seconds.</summary>
    public static readonly TimeSpan CopyTime = TimeSpan.FromSeconds(30);

    /// <summary>How many stops are remembered; the oldest is forgotten first.</summary>
    public const int IdsMax = 64;

    /// <summary>A longer id is none.</summary>
    public const int IdLengthMax = 64;

    private const string Name = "stop";

    private readonly Lock _lock = new();
    private readonly Queue<Obeyed> _obeyed = new(IdsMax);

    /// <summary>Stops the crosshead, unless this is the copy of a stop that was obeyed; then its answer is given again.</summary>
    /// <param name="id">The press; null or empty for a stop without one.</param>
    public async Task<CommandResult> StopAsync(string? id)
    {
        // What waits to be allowed was asked for before the stop.
        consent.RefuseAll();
        if (string.IsNullOrEmpty(id) || id.Length > IdLengthMax)
        {
            Task<CommandResult> stopping = rig.StopAsync();
            book?.Did(Name);
            return await stopping.ConfigureAwait(false);
        }

        Obeyed stop;
        bool isCopy;
        lock (_lock)
        {
            Obeyed? first = _obeyed.FirstOrDefault(o => o.Id == id && time.GetElapsedTime(o.At) < CopyTime);
            isCopy = first is not null;
            stop = first ?? new Obeyed(id, time.GetTimestamp(), rig.StopAsync());
            if (!isCopy)
            {
                if (_obeyed.Count == IdsMax) _obeyed.Dequeue();
                _obeyed.Enqueue(stop);
            }
        }

        if (!isCopy)
        {
            book?.Did(Name);
            return await stop.Answer.ConfigureAwait(false);
        }

        await ((Task)stop.Answer).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        return stop.Answer is { IsCompletedSuccessfully: true, Result: { Done: true } answer } ? answer
            : await rig.StopAsync().ConfigureAwait(false);
    }

    private sealed record Obeyed(string Id, long At, Task<CommandResult> Answer);
}
