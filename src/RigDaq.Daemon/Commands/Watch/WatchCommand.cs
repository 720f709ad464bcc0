using System.CommandLine;
using System.Text;
using RigDaq.App.Input;
using RigDaq.Core.Quantities;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;
using RigDaq.Daemon.Watching;
using Spectre.Console;
using Words = Spectre.Console.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq watch</c>: force, state, trace and last results of the daemon that has the data folder, drawn in the terminal; a line
/// for each change where the output is none.</summary>
internal static class WatchCommand
{
    private static readonly TimeSpan DrawEvery = TimeSpan.FromMilliseconds(100);

    private static readonly Option<bool> Once = new("--once") { Description = TerminalText.WatchOnce };
    private static readonly Option<string?> Data = DataOption.Create();
    private static readonly Option<string?> Config = ConfigOption.Create();

    public static Command Create() => new Command("watch", TerminalText.WatchCommand) { Once, Data, Config }.WithBody(RunAsync);

    private static async Task<int> RunAsync(ParseResult parsed, CancellationToken cancellation)
    {
        string folder = Path.GetFullPath(DataOption.Folder(parsed.GetValue(Data), parsed.GetValue(Config)));
        Units units = UnitsOption.Of(parsed, parsed.GetValue(Config));
        var sight = new WatchSight();
        using var link = new WatchLink(folder, sight, TimeProvider.System);
        bool asJson = parsed.GetValue(CommandTree.Json);
        if (parsed.GetValue(Once)) return await OnceAsync(link, sight, folder, units, asJson, cancellation).ConfigureAwait(false);
        if (asJson || Console.IsOutputRedirected)
        {
            await link.LookOnAsync(isNew => { if (isNew) Write(sight, units, asJson); }, cancellation).ConfigureAwait(false);
            return ExitStatus.Done;
        }

        using var ended = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        Task looking = link.LookOnAsync(_ => { }, ended.Token);
        try
        {
            await DrawAsync(sight, link, units, ended.Token).ConfigureAwait(false);
        }
        finally
        {
            await ended.CancelAsync().ConfigureAwait(false);
            await looking.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        }

        return ExitStatus.Done;
    }

    private static async Task<int> OnceAsync(WatchLink link, WatchSight sight, string folder, Units units, bool asJson,
        CancellationToken cancellation)
    {
        using var seen = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        bool isThere;
        try
        {
            isThere = await link.LookAsync(_ => seen.Cancel(), seen.Token).ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (sight.State is not null)
        {
            Write(sight, units, asJson);
            return ExitStatus.Done;
        }

        throw new CannotBeDoneException(isThere ? TerminalText.DoorLost : TerminalText.WatchNoDaemon(folder));
    }

    private static void Write(WatchSight sight, Units units, bool asJson)
    {
        if (asJson) JsonAnswer.Write(new { rig = sight.RigName, state = sight.State });
        else CommandPlace.Output.WriteLine(WatchScreen.Line(sight.State, units));
    }

    private static async Task DrawAsync(WatchSight sight, WatchLink link, Units units, CancellationToken ended)
    {
        // Past the terminal that writes escapes out: these are our own, and what comes from elsewhere is written out before.
        using var raw = new StreamWriter(Console.OpenStandardOutput(), new UTF8Encoding(false)) { AutoFlush = true };
        IAnsiConsole console = AnsiConsole.Create(new AnsiConsoleSettings
        { Out = new AnsiConsoleOutput(raw), Ansi = AnsiSupport.Yes, Interactive = InteractionSupport.Yes });
        string answer = "";
        using var timer = new PeriodicTimer(DrawEvery);
        await console.Live(new Words("")).AutoClear(true).StartAsync(async screen =>
        {
            do
            {
                switch (Key())
                {
                    case ConsoleKey.Q:
                        return;
                    case ConsoleKey.Spacebar or ConsoleKey.Escape:
                        answer = await link.StopAsync(ended).ConfigureAwait(false) ? TerminalText.WatchStopped
                            : TerminalText.WatchNotStopped;
                        break;
                }

                screen.UpdateTarget(WatchScreen.Of(sight, units, console.Profile.Width, console.Profile.Height, answer));
            }
            while (await timer.WaitForNextTickAsync(ended).ConfigureAwait(false));
        }).ConfigureAwait(false);
    }

    private static ConsoleKey? Key() => !Console.IsInputRedirected && Console.KeyAvailable ? Console.ReadKey(intercept: true).Key : null;
}
