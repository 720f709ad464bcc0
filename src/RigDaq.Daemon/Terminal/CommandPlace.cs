using System.Collections;
using RigDaq.Archive;
using RigDaq.Rig.Control;

namespace RigDaq.Daemon.Terminal;

/// <summary>
/// Where a command runs: at the terminal that it was typed at, or in the daemon that has its data folder, on behalf of such a terminal.
/// What it reads, writes and is configured by goes through here, so that a command is the same in both.
/// </summary>
internal sealed record CommandPlace
{
    private static readonly AsyncLocal<CommandPlace?> Entered = new();

    /// <summary>What the terminal takes as answers.</summary>
    public required TextWriter Answers { get; init; }

    /// <summary>What it takes as words besides.</summary>
    public required TextWriter Words { get; init; }

    /// <summary>What is typed there.</summary>
    public required TextReader Typed { get; init; }

    /// <summary>The configuration in its environment.</summary>
    public required IDictionary Environment { get; init; }

    /// <summary>The daemon's open archive.</summary>
    public required RigArchive Archive { get; init; }

    /// <summary>The daemon's rig; null where it has none.</summary>
    public RigController? Rig { get; init; }

    /// <summary>Whose turn it is at that rig.</summary>
    public RigTurn RigTurn { get; init; } = new();

    /// <summary>The daemon that this command runs in; null at its own terminal.</summary>
    public static CommandPlace? OfDaemon => Entered.Value;

    /// <summary>Answers go here: standard output.</summary>
    public static TextWriter Output => Entered.Value?.Answers ?? Console.Out;

    /// <summary>Words besides go here: standard error.</summary>
    public static TextWriter Error => Entered.Value?.Words ?? Console.Error;

    /// <summary>Lines come from here: standard input.</summary>
    public static TextReader Input => Entered.Value?.Typed ?? Console.In;

    /// <summary>The environment of the terminal.</summary>
    public static IDictionary Settings => Entered.Value?.Environment ?? System.Environment.GetEnvironmentVariables();

    /// <summary>Goes on here, and so does whatever is started from here.</summary>
    public void Enter() => Entered.Value = this;
}
