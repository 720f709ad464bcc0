using RigDaq.Text;

namespace RigDaq.Rig.PlainDevices;

/// <summary>A line format that the first lines of a device suggest.</summary>
/// <param name="Format">The format; null where the lines suggest none.</param>
/// <param name="Reasons">Why, in the order in which it was found.</param>
/// <param name="Doubts">What a person should look at before it is used.</param>
public sealed record LineProposal(LineFormat? Format, IReadOnlyList<Sentence> Reasons, IReadOnlyList<Sentence> Doubts);
