namespace RigDaq.Core.Callers;

/// <summary>Kinds of what is kept to be told afterwards.</summary>
public enum HappeningKind
{
    /// <summary>Somebody did it.</summary>
    Deed,

    /// <summary>A person should have looked.</summary>
    Alarm,

    /// <summary>The sequence came to another stage.</summary>
    Sequence,

    /// <summary>The link came or went.</summary>
    Link,

    /// <summary>How much disk was left.</summary>
    Disk,
}
