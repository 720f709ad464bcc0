namespace RigDaq.Web.Views;

/// <summary>What answers at an address.</summary>
/// <param name="Version">Of the program.</param>
/// <param name="Document">Where the interface is described.</param>
/// <param name="Rigs">That it runs.</param>
internal sealed record ApiView(string Version, string Document, IReadOnlyList<ApiRig> Rigs);

/// <summary>One rig of them.</summary>
/// <param name="Name">As it is configured.</param>
/// <param name="Path">Below which it is found.</param>
internal sealed record ApiRig(string Name, string Path);
