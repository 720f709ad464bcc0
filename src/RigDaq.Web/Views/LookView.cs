namespace RigDaq.Web.Views;

/// <summary>How somebody looks from elsewhere.</summary>
/// <param name="IsOpen">Whether that is open at all.</param>
/// <param name="Links">The addresses to open, the likeliest first; each holds what lets one look.</param>
internal sealed record LookView(bool IsOpen, IReadOnlyList<string> Links);
