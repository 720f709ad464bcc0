using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.Control;

/// <summary>What became of a command.</summary>
/// <param name="Done">Whether it was done, or begun where it takes time.</param>
/// <param name="Message">For the person who asked.</param>
/// <param name="Reasons">Where it was not done: everything that stands against it, each with what to do.</param>
public sealed record CommandResult(bool Done, Sentence Message, IReadOnlyList<Sentence> Reasons)
{
    /// <summary>Whether it was not done for this moment only: the device was still stopping from the motion before.</summary>
    public bool IsPassing { get; init; }

    /// <summary>It was done.</summary>
    public static CommandResult Ok(Sentence message) => new(true, message, []);

    /// <summary>It was not.</summary>
    public static CommandResult Refused(params IReadOnlyList<Sentence> reasons) => new(false, reasons.Joined(), reasons);
}
