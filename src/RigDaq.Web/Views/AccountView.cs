namespace RigDaq.Web.Views;

/// <summary>One account.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Role">look, operate or administer.</param>
/// <param name="MadeAt">When it was made.</param>
internal sealed record AccountView(string Name, string Role, DateTimeOffset MadeAt);
