using RigDaq.Protocol.Messages;
using RigDaq.Text;

namespace RigDaq.Rig.Session;

/// <summary>What became of a numbered command.</summary>
/// <param name="Number">Its number.</param>
/// <param name="Answered">Whether the device answered; else it was overtaken or the session ended.</param>
/// <param name="Result">The answer.</param>
/// <param name="Detail">Its detail.</param>
/// <param name="Words">Why it was not done; "done" where it was.</param>
internal readonly record struct CommandOutcome(ushort Number, bool Answered, AnswerResult Result, uint Detail, Sentence Words)
{
    /// <summary>Whether the device did it, or began it.</summary>
    public bool Done => Answered && Result == AnswerResult.Done;

    public static CommandOutcome NotSent(Sentence words) => new(0, false, AnswerResult.Superseded, 0, words);
}
