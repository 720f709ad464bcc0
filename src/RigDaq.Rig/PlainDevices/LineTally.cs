using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.PlainDevices;

/// <summary>Counts what became of every line, and says it in words. Not thread-safe.</summary>
internal sealed class LineTally
{
    /// <summary>So many lines without a reading are another format or another baud rate.</summary>
    public const int StrangeLinesMin = 5;

    private Sentence _lastDropped = Sentence.None;
    private long _bytes;
    private long _bytesWithoutEnd;

    /// <summary>Lines that carried a reading.</summary>
    public long Readings { get; private set; }

    /// <summary>Comment lines.</summary>
    public long Comments { get; private set; }

    /// <summary>Lines that were not understood.</summary>
    public long Dropped { get; private set; }

    /// <summary>Of these: with bytes that are no text.</summary>
    public long NotText { get; private set; }

    /// <summary>Of these: too long.</summary>
    public long TooLong { get; private set; }

    /// <summary>Readings that did not fit into 24 bits.</summary>
    public long BeyondRange { get; private set; }

    /// <summary>Questions to an instrument that were not answered in time.</summary>
    public long Unanswered { get; private set; }

    /// <summary>Answers that came when no question was open.</summary>
    public long Unasked { get; private set; }

    public void AddBytes(int count, long withoutEnd)
    {
        _bytes += count;
        _bytesWithoutEnd = withoutEnd;
    }

    public void AddReading(bool beyondRange)
    {
        Readings++;
        if (beyondRange) BeyondRange++;
    }

    public void AddComment() => Comments++;

    public void AddDropped(CutLine line, Sentence why)
    {
        Dropped++;
        if (line.Fault == LineFault.NotText) NotText++;
        if (line.Fault == LineFault.TooLong) TooLong++;
        string text = line.Text.Length > LineCutter.ShownMax ? line.Text[..LineCutter.ShownMax] + "…" : line.Text;
        _lastDropped = RigText.LastDropped(text, why);
    }

    public void AddUnanswered() => Unanswered++;

    public void AddUnasked() => Unasked++;

    /// <summary>What a person should know.</summary>
    /// <param name="silentSeconds">How long nothing was understood.</param>
    /// <param name="isAsked">Whether the device is asked, or prints by itself.</param>
    public IEnumerable<Sentence> Words(double silentSeconds, bool isAsked)
    {
        if (_bytes == 0 && Lines == 0)
            yield return RigText.NothingYet(isAsked);
        else if (Readings + Comments + Dropped == 0 && _bytesWithoutEnd > LineCutter.LineBytesMax)
            yield return RigText.BytesWithoutEnd(_bytes);
        else if (Readings == 0 && Dropped >= StrangeLinesMin && NotText * 2 < Dropped)
            yield return RigText.NoLineUnderstood(Dropped);
        else if (silentSeconds > 0 && Readings > 0)
            yield return RigText.NoReadingFor(silentSeconds, isAsked);
        if (NotText > 0 && NotText * 2 >= Dropped)
            yield return RigText.LinesNoText(NotText, Lines);
        if (Dropped > 0)
            yield return RigText.LinesDropped(Dropped, Lines, _lastDropped);
        if (BeyondRange > 0)
            yield return RigText.ReadingsBeyondRange(BeyondRange);
        if (Unanswered > 0) yield return RigText.QuestionsUnanswered(Unanswered);
        if (Unasked > 0) yield return RigText.AnswersLate(Unasked);
    }

    private long Lines => Readings + Comments + Dropped;
}
