using RigDaq.Core.Mixed;

namespace RigDaq.Core.Questions;

/// <summary>A question that is a contrast of group means, over so many settings; its identity says which one.</summary>
internal sealed record Asked(QuestionAnswer Identity, Contrast Contrast, int Settings = 1);
