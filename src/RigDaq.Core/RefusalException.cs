using RigDaq.Text;

namespace RigDaq.Core;

/// <summary>What a person asked for cannot be done as it was asked; the sentences say why and what to do. Only this is shown as advice: an
/// argument that the program itself got wrong is an <see cref="ArgumentException"/>, and a fault of ours.</summary>
public class RefusalException : Exception
{
    /// <summary>A refusal.</summary>
    /// <param name="sentence">For the person who asked.</param>
    /// <param name="inner">What was refused first.</param>
    public RefusalException(Sentence sentence, Exception? inner = null) : base(sentence, inner) => Reasons = [sentence];

    /// <summary>A refusal for several reasons; at least one.</summary>
    public RefusalException(IReadOnlyList<Sentence> reasons) : base(string.Join(Environment.NewLine, reasons)) => Reasons = reasons;

    /// <summary>A refusal in words that are nobody's to translate or to convert.</summary>
    /// <param name="message">For the person who asked.</param>
    /// <param name="inner">What was refused first.</param>
    public RefusalException(string message, Exception? inner = null) : this(Sentence.Verbatim(message), inner)
    {
    }

    /// <summary>For the person who asked, all of them.</summary>
    public IReadOnlyList<Sentence> Reasons { get; }

    /// <summary>The only one, or the first.</summary>
    public Sentence Sentence => Reasons[0];
}
