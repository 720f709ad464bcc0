using RigDaq.Core.Callers;
using RigDaq.Core.Specimens;

namespace RigDaq.App.Callers;

/// <summary>
/// Who asks for something: at a terminal, on a page, or from another machine. It is entered where a request or a command begins and goes
/// along with whatever is awaited or started from there; what is kept meanwhile is kept with it. What the program does by itself nobody
/// asks for.
/// </summary>
/// <param name="Name">The name that is kept; empty where nobody said one.</param>
/// <param name="From">From where, as <see cref="By.From"/> has it.</param>
/// <param name="Role">What they may do.</param>
public sealed record Caller(string Name, string From, CallerRole Role)
{
    /// <summary>Whoever has the key and said no name.</summary>
    public const string Unnamed = "operator";

    private static readonly AsyncLocal<Caller?> Entered = new();

    /// <summary>Who asks now; null where nobody does.</summary>
    public static Caller? Current => Entered.Value;

    /// <summary>What is kept of them.</summary>
    public By By => new(Name, From);

    /// <summary>The user that this program runs as, at a terminal.</summary>
    public static Caller OfThisUser => AtTerminal(Environment.UserName);

    /// <summary>A user of this machine at its terminal, or a program of theirs.</summary>
    public static Caller AtTerminal(string user) => new(NameOf(user, Unnamed), By.Terminal, CallerRole.Administer);

    /// <summary>What somebody calls themselves, where it can be kept.</summary>
    /// <param name="said">What they said.</param>
    /// <param name="otherwise">What is kept where they said nothing, or nothing that can be.</param>
    public static string NameOf(string? said, string otherwise) =>
        said?.Trim() is { Length: > 0 and <= By.NameMax } name && PlainText.IsPlain(name) ? name : otherwise;

    /// <summary>Goes on as this caller, and so does whatever is started from here.</summary>
    public void Enter() => Entered.Value = this;
}
