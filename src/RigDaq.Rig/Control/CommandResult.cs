namespace RigDaq.Rig.Control;

/// <summary>What became of a command, in words.</summary>
/// <param name="Done">Whether it was done, or begun where it takes time.</param>
/// <param name="Message">One sentence for the person who asked.</param>
/// <param name="Reasons">Where it was not done: everything that stands against it, each with what to do.</param>
public sealed record CommandResult(bool Done, string Message, IReadOnlyList<string> Reasons)
{
    /// <summary>Whether it was not done for this moment only: the device was still stopping from the motion before.</summary>
    public bool IsPassing { get; init; }

    /// <summary>It was done.</summary>
    public static CommandResult Ok(string message) => new(true, message, []);

    /// <summary>It was not.</summary>
    public static CommandResult Refused(params IReadOnlyList<string> reasons) => new(false, string.Join(" ", reasons), reasons);
}
