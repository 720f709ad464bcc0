using System.Text.Json.Nodes;
using RigDaq.App.Configuration;
using RigDaq.App.Rigs;
using RigDaq.App.Text;
using RigDaq.Rig.Links;
using RigDaq.Rig.PlainDevices;
using RigDaq.Text;

namespace RigDaq.App.Checking;

/// <summary>Looks at the first lines that a device prints, holds the configured format to them, and proposes one.</summary>
internal static class LineProbe
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
            await using (link.ConfigureAwait(false)) seen = await FirstLines.ReadAsync(link, ListenMax, time, cancellation)
                .ConfigureAwait(false);
        }
        catch (LinkOpenException fault)
        {
            return new Finding("lines", false, fault.Words);
        }

        return Judge(serial, seen);
    }

    /// <summary>What is to be said of lines under a configuration.</summary>
    public static Finding Judge(SerialOptions serial, FirstLines seen)
    {
        LineProposal proposal = seen.Propose();
        Sentence first = AppText.LinesLook(seen.Lines.Count > 1 ? seen.Lines[^1] : null);
        Sentence why = AppText.LinesFound(proposal.Reasons, proposal.Doubts, proposal.Doubts.Count > 0);
        if (proposal.Format is not { } proposed) return new Finding("lines", false, AppText.LinesNotRead(why, first));
        var configuration = new JsonObject
        { ["serial"] = new JsonObject { ["speaks"] = "lines", ["lines"] = LineOptions.ToJson(proposed) } };
        if (serial is { Speaks: "lines", Lines: { } set } && set.ToFormat() is { } format)
        {
            double share = seen.ShareRead(format);
            Sentence read = AppText.LinesRead(seen.Lines.Count, 100 * share, format.InWords());
            return share >= ShareMin
                ? new Finding("lines", true, read)
                : new Finding("lines", false,
                    AppText.LinesProposedInstead(read, first, proposed.InWords(), why, configuration.ToJsonString()))
                { Configuration = configuration };
        }

        return new Finding("lines", false, AppText.LinesProposed(first, proposed.InWords(), why, configuration.ToJsonString()))
        {
            Configuration = configuration,
        };
    }
}
