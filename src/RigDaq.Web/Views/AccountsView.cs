namespace RigDaq.Web.Views;

/// <summary>Who may log in from elsewhere, and who has.</summary>
/// <param name="Links">The addresses to log in at, the likeliest first; none where that is closed.</param>
/// <param name="Fingerprint">Of the certificate that is shown there, to compare; null where it is closed.</param>
/// <param name="Accounts">By name.</param>
/// <param name="Sessions">Those that go on, the newest first.</param>
internal sealed record AccountsView(IReadOnlyList<string> Links, string? Fingerprint, IReadOnlyList<AccountView> Accounts,
    IReadOnlyList<SessionView> Sessions);
