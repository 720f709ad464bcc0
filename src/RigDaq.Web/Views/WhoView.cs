namespace RigDaq.Web.Views;

/// <summary>Who asks, as the program knows them.</summary>
/// <param name="Name">Their name; empty where nobody said one.</param>
/// <param name="From">From where.</param>
/// <param name="Role">look, operate or administer.</param>
/// <param name="AtTheRig">Whether they stand there.</param>
internal sealed record WhoView(string Name, string From, string Role, bool AtTheRig);
