using System.Collections;
using System.CommandLine;
using System.Globalization;
using RigDaq.Core.Quantities;
using RigDaq.Daemon.Configuration;
using RigDaq.Daemon.Hosting;
using RigDaq.Daemon.Input;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq serve</c>: the daemon with a real rig.</summary>
internal static class ServeCommand
{
    private static readonly Option<string?> Config = ConfigOption.Create();

    public static Command Create() => new Command("serve", "The daemon with a real rig.") { Config }.WithBody(RunAsync);

    private static async Task<int> RunAsync(ParseResult parsed, CancellationToken cancellation)
    {
        Units units = UnitsOption.Of(parsed, parsed.GetValue(Config));
        Action<string> say = words => CommandRunner.Say(UnitWords.In(words, units));
        RigHostPlan plan = Plan(parsed.GetValue(Config), Environment.GetEnvironmentVariables(), TimeProvider.System, say);
        DaemonOptions options = plan.Options;
        UnitsOption.Apply(parsed, options.Units);
        RigHost host = await RigHost.StartAsync(plan, cancellation).ConfigureAwait(false);
        await using (host.ConfigureAwait(false))
        {
            CommandRunner.Say($"Dashboard: {host.DashboardAddress}");
            if (host.MqttPort is { } port) CommandRunner.Say(string.Create(CultureInfo.InvariantCulture, $"MQTT: 127.0.0.1:{port}, topics below {options.Mqtt.TopicRoot}/{options.Name}/"));
            CommandRunner.Say($"Data: {options.DataFolder}");
            var link = new LinkWords(say, TimeProvider.System);
            host.Rig.SnapshotChanged += link.Show;
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
    internal static RigHostPlan Plan(string? file, IDictionary environment, TimeProvider time, Action<string> say)
    {
        DaemonOptions options = OptionsReader.Read(file, environment);
        if (options.Serial.Path is not { } path)
            throw new InputException($"{file ?? "the environment"}, key serial.path: missing; expected the rig's port, for example /dev/ttyACM0 (docs/connect.md).");
        if (options.Serial is { Speaks: "lines", Lines: null })
            throw new InputException($"{file ?? "the environment"}, key serial.lines: missing; rigdaq check looks at the device's lines and proposes it (docs/plain-devices.md).");
        return new RigHostPlan { Options = options, Link = DeviceLine.Opener(options.Serial, path, time), Time = time, Say = say };
    }
}

/// <summary>Says when the link comes and goes, and, now and then, what became of lines that were not understood.</summary>
internal sealed class LinkWords(Action<string> say, TimeProvider time)
{
    /// <summary>Dropped lines are spoken of no more often than this.</summary>
    public static readonly TimeSpan NewsInterval = TimeSpan.FromSeconds(30);

    private string _last = "";
    private long _dropped;
    private long _saidAt;

    public void Show(Rig.Control.RigSnapshot snapshot)
    {
        if (snapshot.LinkNews.LinesDropped != _dropped && (_saidAt == 0 || time.GetElapsedTime(_saidAt) >= NewsInterval))
        {
            _dropped = snapshot.LinkNews.LinesDropped;
            _saidAt = time.GetTimestamp();
            foreach (string words in snapshot.LinkNews.Words) say(words);
        }

        if (snapshot.LinkMessage == _last) return;
        _last = snapshot.LinkMessage;
        say(_last);
    }
}

/// <summary>The option that names a configuration file.</summary>
internal static class ConfigOption
{
    public static Option<string?> Create() => new("--config") { Description = "A JSON file; docs/configuration.md has every key. The environment goes over it.", HelpName = "FILE" };
}
