using RigDaq.Text;

namespace RigDaq.Core.Specimens;

/// <summary>A section, or why there is none.</summary>
/// <param name="Section">The section; null where it cannot be had.</param>
/// <param name="Problem">Why not, and what to do; empty where there is a section.</param>
public sealed record SectionOutcome(Section? Section, Sentence Problem);
