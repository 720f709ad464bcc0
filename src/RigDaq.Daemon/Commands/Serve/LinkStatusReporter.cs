using RigDaq.Rig.Control;
using RigDaq.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>Says when the link comes and goes, and, now and then, what became of lines that were not understood.</summary>
internal sealed class LinkStatusReporter(Action<Sentence> say, TimeProvider time)
{
    /// <summary>Dropped lines are spoken of no more often than this.</summary>
    public static readonly TimeSpan NewsInterval = TimeSpan.FromSeconds(30);

    private Sentence? _last;
    private long _dropped;
    private long _saidAt;

    public void Show(RigSnapshot snapshot)
    {
        if (snapshot.LinkNews.LinesDropped != _dropped && (_saidAt == 0 || time.GetElapsedTime(_saidAt) >= NewsInterval))
        {
            _dropped = snapshot.LinkNews.LinesDropped;
            _saidAt = time.GetTimestamp();
            foreach (Sentence words in snapshot.LinkNews.Words) say(words);
        }

        if (snapshot.LinkMessage.Equals(_last) || snapshot.LinkMessage.IsEmpty) return;
        _last = snapshot.LinkMessage;
        say(_last);
    }
}
