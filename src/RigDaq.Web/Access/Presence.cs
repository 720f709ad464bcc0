namespace RigDaq.Web.Access;

/// <summary>What a command wants of whoever is elsewhere.</summary>
internal enum Presence
{
    /// <summary>Nothing: nothing moves by it.</summary>
    NotNeeded,

    /// <summary>That a person at the rig allows it.</summary>
    Asked,

    /// <summary>It says what only who stands there can see.</summary>
    AtTheRig,
}
