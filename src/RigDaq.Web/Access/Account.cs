using RigDaq.App.Callers;

namespace RigDaq.Web.Access;

/// <summary>Somebody who may log in from elsewhere.</summary>
/// <param name="Name">What they log in as, and what is kept of what they do.</param>
/// <param name="Role">What they may do.</param>
/// <param name="PasswordHash">Of their password, by ASP.NET Core's hasher (PBKDF2 with a salt of its own).</param>
/// <param name="Issue">Rises with each change: a session of before the change is over.</param>
/// <param name="MadeAt">When it was made.</param>
internal sealed record Account(string Name, CallerRole Role, string PasswordHash, int Issue, DateTimeOffset MadeAt);
