using RigDaq.Core.Mixed;

namespace RigDaq.Core.Questions;

/// <summary>A question that is a contrast of group means.</summary>
/// <param name="Identity">Which one: question, material, condition, settings.</param>
/// <param name="Contrast">The contrast.</param>
/// <param name="Settings">How many settings it runs over.</param>
internal sealed record Asked(QuestionAnswer Identity, Contrast Contrast, int Settings = 1);
