using RigDaq.App.Text;
using RigDaq.Core;

namespace RigDaq.App.Jobs;

/// <summary>Between any two stretches of its work a job says how far it is, and learns here whether it was called off, or takes a pull's
/// room on the disk.</summary>
/// <param name="freeBytes">What the disk has left.</param>
/// <param name="cancellation">Calls it off.</param>
internal sealed class JobPace(Func<long> freeBytes, CancellationToken cancellation)
{
    /// <summary>With less left on the disk a job ends: a pull wants its room, and its samples cannot be had again.</summary>
    public const long FreeBytesMin = 256L * 1024 * 1024;

    private long _progress;

    /// <summary>How much is done, and of how much; 0 of 0 before the first step.</summary>
    public (int Done, int Of) Progress
    {
        get
        {
            long both = Volatile.Read(ref _progress);
            return ((int)(both >> 32), (int)both);
        }
    }

    /// <summary>A stretch is done.</summary>
    /// <param name="done">How many.</param>
    /// <param name="of">Of how many.</param>
    /// <exception cref="OperationCanceledException">It was called off.</exception>
    /// <exception cref="RefusalException">The disk is nearly full.</exception>
    public void Step(int done, int of)
    {
        Volatile.Write(ref _progress, ((long)done << 32) | (uint)of);
        cancellation.ThrowIfCancellationRequested();
        Needs(0);
    }

    /// <summary>What comes next takes so many bytes of the disk.</summary>
    /// <param name="bytes">At most.</param>
    /// <exception cref="RefusalException">Too little would be left for a pull.</exception>
    public void Needs(long bytes)
    {
        long free = freeBytes();
        if (free - bytes < FreeBytesMin)
            throw new RefusalException(PageText.Sentence("answers.noRoomForJob", ("left", free / 1_000_000),
                ("needs", (FreeBytesMin + bytes) / 1_000_000)));
    }
}
