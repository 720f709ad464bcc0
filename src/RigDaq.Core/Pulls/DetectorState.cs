namespace RigDaq.Core.Pulls;

/// <summary>How far a pull has come, as its force alone tells.</summary>
public enum DetectorState
{
    /// <summary>The force has not risen above contact.</summary>
    NoContact,

    /// <summary>The specimen carries load.</summary>
    Loading,

    /// <summary>The force has fallen below its limit and may yet recover.</summary>
    Falling,

    /// <summary>The specimen has parted and nothing is left.</summary>
    Broken,

    /// <summary>It has parted but still carries some load.</summary>
    PartlyBroken,

    /// <summary>The force fell as far, but slowly.</summary>
    SlippedOut,
}
