using RigDaq.Text;

namespace RigDaq.Core;

/// <summary>
/// What a person asked for cannot be done as it was asked; the sentence says why and what to do. Only this is shown as advice: an argument
/// that the program itself got wrong is an <see cref="ArgumentException"/>, and a fault of ours.
/// </summary>
public class RefusalException : Exception
{
    /// <summary>A refusal.</summary>
    /// <param name="sentence">For the person who asked.</param>
    /// <param name="inner">What was refused first.</param>
    public RefusalException(Sentence sentence, Exception? inner = null) : base(sentence, inner) => (Sentence, Code) = (sentence, sentence.Code);

    /// <summary>A refusal in words that are nobody's to translate or to convert.</summary>
    /// <param name="message">For the person who asked.</param>
    /// <param name="inner">What was refused first.</param>
    public RefusalException(string message, Exception? inner = null) : this(Sentence.Verbatim(message), inner)
    {
    }

    /// <summary>For the person who asked.</summary>
    public Sentence Sentence { get; }

    /// <summary>Which refusal it is, for programs.</summary>
    public string Code { get; init; }
}
