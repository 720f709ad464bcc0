using RigDaq.Text;

namespace RigDaq.Tables.Readings;

/// <summary>The file as a whole cannot be read; the fault says why.</summary>
internal sealed class TableRefusedException(Sentence sentence) : Exception(sentence)
{
    /// <summary>What is wrong with it.</summary>
    public Sentence Sentence => sentence;
}
