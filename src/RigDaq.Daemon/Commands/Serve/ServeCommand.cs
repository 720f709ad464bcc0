using System.Collections;
using System.CommandLine;
using System.Runtime.CompilerServices;
using RigDaq.App.Configuration;
using RigDaq.App.Input;
using RigDaq.App.Rigs;
using RigDaq.App.Text;
using RigDaq.Core.Quantities;
using RigDaq.Daemon.Hosting;
using RigDaq.Daemon.Text;
using RigDaq.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq serve</c>: the daemon with a real rig.</summary>
internal static class ServeCommand
{
    private static readonly Option<string?> Config = ConfigOption.Create();

    public static Command Create() => new Command("serve", TerminalText.ServeCommand) { Config }.WithBody(RunAsync);

    private static async Task<int> RunAsync(ParseResult parsed, CancellationToken cancellation)
    {
        Units units = UnitsOption.Of(parsed, parsed.GetValue(Config));
        Action<Sentence> say = words => CommandRunner.Say(words.In(units));
        RigHostPlan plan = Plan(parsed.GetValue(Config), Environment.GetEnvironmentVariables(), TimeProvider.System, say);
        DaemonOptions options = plan.Options;
        UnitsOption.Apply(parsed, options.Units);
        // Tried, not needed; check says where it is refused.
        Rig.Scheduling.TryRaiseProcess();
        RigHost host = await RigHost.StartAsync(plan, cancellation).ConfigureAwait(false);
        await using (host.ConfigureAwait(false))
        {
            CommandRunner.Say(TerminalText.ServeDashboard(host.DashboardAddress));
            if (host.Elsewhere.LookPort is { } look) CommandRunner.Say(TerminalText.ServeLook(look));
            if (host.Elsewhere is { OperatePort: { } operate, Fingerprint: { } print })
                CommandRunner.Say(TerminalText.ServeOperate(operate, print));
            if (host.MqttPort is { } port) CommandRunner.Say(TerminalText.ServeMqtt(port, $"{options.Mqtt.TopicRoot}/{options.Name}/"));
            CommandRunner.Say(TerminalText.ServeData(options.DataFolder));
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new
            { dashboard = host.DashboardAddress, host.MqttPort, data = host.DataFolder });
            var link = new LinkStatusReporter(say, TimeProvider.System);
            var shown = new Onlooker(host.Rig, snapshotsMax: 16, link.Show,
                fault => CommandRunner.Say(TerminalText.ServeOnlookerFailed(fault.Message)));
            await using ConfiguredAsyncDisposable ending = shown.ConfigureAwait(false);
            try
            {
                await host.WaitForEndAsync(cancellation).ConfigureAwait(false);
            }
            catch (OperationCanceledException) when (cancellation.IsCancellationRequested)
            {
                // Ctrl-C is how it is meant to end.
            }
        }

        return ExitStatus.Done;
    }

    /// <summary>What is served: the configuration with the line that it names, all on one clock.</summary>
    /// <exception cref="InputException">The configuration is wrong, or names no rig.</exception>
    internal static RigHostPlan Plan(string? file, IDictionary environment, TimeProvider time, Action<Sentence> say)
    {
        DaemonOptions options = OptionsReader.Read(file, environment);
        if (options.Serial.Path is not { } path)
            throw new InputException(TerminalText.ServePortMissing(file ?? AppText.RigEnvironment));
        if (options.Serial is { Speaks: "lines", Lines: null })
            throw new InputException(TerminalText.ServeLinesMissing(file ?? AppText.RigEnvironment));
        return new RigHostPlan
        {
            Options = options,
            Link = DeviceLine.Opener(options.Serial, path),
            Time = time,
            Say = say,
            Commands = CommandTree.RunAsync
        };
    }
}

/// <summary>The option that names a configuration file.</summary>
internal static class ConfigOption
{
    public static Option<string?> Create() => new("--config") { Description = TerminalText.OptionConfig, HelpName = "FILE" };
}
