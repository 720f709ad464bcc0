namespace RigDaq.Web.Views;

/// <summary>All long work that is known, the newest first.</summary>
/// <param name="Jobs">The jobs.</param>
internal sealed record JobsView(IReadOnlyList<JobView> Jobs);
