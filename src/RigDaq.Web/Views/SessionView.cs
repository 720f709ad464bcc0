namespace RigDaq.Web.Views;

/// <summary>Somebody who has logged in.</summary>
/// <param name="Name">As whom.</param>
/// <param name="From">From which address.</param>
/// <param name="BegunAt">When.</param>
/// <param name="UsedAt">When something was last asked for.</param>
internal sealed record SessionView(string Name, string From, DateTimeOffset BegunAt, DateTimeOffset UsedAt);
