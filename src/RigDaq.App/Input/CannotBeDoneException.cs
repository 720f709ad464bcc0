using RigDaq.Text;

namespace RigDaq.App.Input;

/// <summary>Something about the machine, the device or the database keeps a command from its work; the sentence says what to do.</summary>
internal sealed class CannotBeDoneException(Sentence sentence, Exception? inner = null) : Exception(sentence, inner)
{
    /// <summary>In words that are nobody's to translate or to convert.</summary>
    public CannotBeDoneException(string message, Exception? inner = null) : this(Sentence.Verbatim(message), inner)
    {
    }

    /// <summary>For the person who asked.</summary>
    public Sentence Sentence => sentence;
}
