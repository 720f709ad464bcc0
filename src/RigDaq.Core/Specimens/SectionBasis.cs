namespace RigDaq.Core.Specimens;

/// <summary>Which section a strength is divided by. It changes the result and is printed with it.</summary>
public enum SectionBasis
{
    /// <summary>Each specimen's own.</summary>
    PerSpecimen,

    /// <summary>The mean of the group.</summary>
    PerGroup,

    /// <summary>The group at the reference setting, for the whole material (common practice, no source).</summary>
    ReferenceSetting,
}
