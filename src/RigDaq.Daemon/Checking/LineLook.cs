using System.Globalization;
using System.Text.Json.Nodes;
using RigDaq.Daemon.Configuration;
using RigDaq.Daemon.Hosting;
using RigDaq.Rig.Links;
using RigDaq.Rig.PlainDevices;

namespace RigDaq.Daemon.Checking;

/// <summary>Looks at the first lines that a device prints, holds the configured format to them, and proposes one.</summary>
internal static class LineLook
{
    /// <summary>How long the port is listened to. Some boards restart when it is opened and take two seconds.</summary>
    public static readonly TimeSpan ListenMax = TimeSpan.FromSeconds(5);

    /// <summary>A configured format that reads less of the lines than this is not in order.</summary>
    public const double ShareMin = 0.9;

    public static async Task<Finding> LookAsync(SerialOptions serial, string path, TimeProvider time, CancellationToken cancellation)
    {
        FirstLines seen;
        try
        {
            IRigLink link = await DeviceLine.Port(serial, path).OpenAsync(cancellation).ConfigureAwait(false);
            await using (link.ConfigureAwait(false)) seen = await FirstLines.ReadAsync(link, ListenMax, time, cancellation).ConfigureAwait(false);
        }
        catch (LinkOpenException fault)
        {
            return new Finding("lines", false, fault.Message);
        }

        return Judge(serial, seen);
    }

    /// <summary>What is to be said of lines under a configuration.</summary>
    public static Finding Judge(SerialOptions serial, FirstLines seen)
    {
        LineProposal proposal = seen.Propose();
        string first = seen.Lines.Count > 1 ? $" The lines look like “{seen.Lines[^1]}”." : "";
        if (proposal.Format is not { } proposed) return new Finding("lines", false, Sentence(proposal.Reasons) + first);
        string why = Sentence(proposal.Reasons) + (proposal.Doubts.Count > 0 ? $" To look at: {string.Join("; ", proposal.Doubts)}." : "");
        var configuration = new JsonObject { ["serial"] = new JsonObject { ["speaks"] = "lines", ["lines"] = LineOptions.ToJson(proposed) } };
        if (serial is { Speaks: "lines", Lines: { } set } && set.ToFormat() is { } format)
        {
            double share = seen.ShareRead(format);
            string read = string.Create(CultureInfo.InvariantCulture, $"{seen.Lines.Count} lines, {100 * share:0} % of them read as {format.InWords()}.");
            return share >= ShareMin
                ? new Finding("lines", true, read)
                : new Finding("lines", false, $"{read}{first} Proposed instead: {proposed.InWords()}. {why} Write: {configuration.ToJsonString()}") { Configuration = configuration };
        }

        return new Finding("lines", false, $"The device prints lines.{first} Proposed: {proposed.InWords()}. {why} Write: {configuration.ToJsonString()}")
        {
            Configuration = configuration,
        };
    }

    private static string Sentence(IReadOnlyList<string> parts)
    {
        string all = string.Join("; ", parts);
        return all.Length == 0 ? "" : char.ToUpperInvariant(all[0]) + all[1..].TrimEnd('.') + ".";
    }
}
