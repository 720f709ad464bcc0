using RigDaq.App.Access;
using RigDaq.App.Callers;
using RigDaq.App.Journal;
using RigDaq.App.Text;
using RigDaq.Text;

namespace RigDaq.Web.Live;

/// <summary>Whether a page's socket may move the crosshead by hand: at the rig with its key, elsewhere once a person at the rig has allowed
/// it, for a while and until somebody stops.</summary>
/// <param name="who">Who is at the page.</param>
/// <param name="mayMove">Whether they may move anything at all.</param>
/// <param name="isAtTheRig">Whether they stand there.</param>
/// <param name="consent">Where others ask.</param>
/// <param name="book">Where it is written down.</param>
internal sealed class LiveRights(Caller who, bool mayMove, bool isAtTheRig, MotionConsent consent,
    HappeningBook book)
{
    /// <summary>So long hand motion from elsewhere stays allowed.</summary>
    internal static readonly TimeSpan AllowedFor = TimeSpan.FromMinutes(5);

    private const string Jog = "jog";

    private long _allowedAt;
    private int _allowedStops;
    private int _isAllowed;
    private int _isAsking;

    /// <summary>Whether they may move anything at all.</summary>
    public bool MayMove => mayMove;

    /// <summary>Whether they stand at the rig.</summary>
    public bool IsAtTheRig => isAtTheRig;

    /// <summary>What others want to move, for who may allow it: another list after each change.</summary>
    public IReadOnlyList<MotionAsked> Asked => isAtTheRig ? consent.Asked : [];

    /// <summary>Why not now; null where they may. Elsewhere the first try asks at the rig and is refused meanwhile: nothing may begin to
    /// move because somebody said yes while a button was still held.</summary>
    public Sentence? ReasonAgainst(TimeProvider time, CancellationToken ended)
    {
        if (!mayMove) return PageText.Sentence("answers.mayNotMove");
        bool isAllowed = Volatile.Read(ref _isAllowed) == 1 && Volatile.Read(ref _allowedStops) == consent.Stops
            && time.GetElapsedTime(Volatile.Read(ref _allowedAt)) < AllowedFor;
        if (isAtTheRig || isAllowed) return null;
        Volatile.Write(ref _isAllowed, 0);
        if (Interlocked.Exchange(ref _isAsking, 1) == 0) _ = AskAsync(time, ended);
        return PageText.Sentence("answers.askedAtTheRig");
    }

    /// <summary>A motion by hand began.</summary>
    public void Began() => book.Did(Jog);

    private async Task AskAsync(TimeProvider time, CancellationToken ended)
    {
        int stops = consent.Stops;
        bool allowed = await consent.AskAsync(who, Jog, ended).ConfigureAwait(false) == true;
        Volatile.Write(ref _allowedAt, time.GetTimestamp());
        Volatile.Write(ref _allowedStops, stops);
        Volatile.Write(ref _isAllowed, allowed ? 1 : 0);
        Volatile.Write(ref _isAsking, 0);
    }
}
