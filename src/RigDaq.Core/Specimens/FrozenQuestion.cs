namespace RigDaq.Core.Specimens;

/// <summary>A question that was frozen in the plan. A null member stands for any.</summary>
public sealed record FrozenQuestion(string Question, string? Material = null, string? Condition = null, decimal? Setting = null,
    string? AgainstMaterial = null, string? AgainstCondition = null, decimal? AgainstSetting = null);
