namespace RigDaq.App.Callers;

/// <summary>What somebody may do here; each may what those before it may.</summary>
public enum CallerRole
{
    /// <summary>Look, and stop.</summary>
    Look,

    /// <summary>Pull, move, correct.</summary>
    Operate,

    /// <summary>Also say who else may.</summary>
    Administer,
}
