using System.Text.Json;

namespace RigDaq.Tests.Shared;

/// <summary>Short names of what a page asks for, as tests write them, and the addresses that they stand for; what belongs into an address
/// is taken from the query or the body that comes along.</summary>
internal static class Addresses
{
    private const string Root = "/api/v1";
    private const string Rig = Root + "/rigs/-";

    /// <summary>The live socket of the one rig.</summary>
    public const string Live = Rig + "/live";

    private static readonly Dictionary<string, string> Known = new()
    {
        ["enter"] = Root + "/session",
        ["stop"] = "/api/stop",
        ["start"] = Rig + "/sequence",
        ["resume"] = Rig + "/sequence/resume",
        ["skip"] = Rig + "/sequence/skip",
        ["retry"] = Rig + "/sequence/retry",
        ["finish"] = Rig + "/sequence/finish",
        ["confirm"] = Rig + "/sequence/confirm",
        ["grip-open"] = Rig + "/grip/open",
        ["zero"] = Rig + "/zero",
        ["clear-faults"] = Rig + "/faults/clear",
        ["home"] = Rig + "/home",
        ["asked"] = Rig + "/asked",
        ["grip-separation"] = Rig + "/grip-separation",
        ["hand-motion"] = Rig + "/hand-motion",
        ["replay"] = Rig + "/replay",
        ["calibration"] = Rig + "/calibration",
        ["calibration-begin"] = Rig + "/calibration/begin",
        ["calibration-do"] = Rig + "/calibration/step",
        ["calibration-accept"] = Rig + "/calibration/accept",
        ["site"] = Rig + "/site",
        ["run"] = Root + "/runs/{run}",
        ["run-trace"] = Root + "/runs/{run}/trace",
        ["run-channel"] = Root + "/runs/{run}/channel",
        ["run-photo"] = Root + "/runs/{run}/photo",
        ["run-void"] = Root + "/runs/{run}/exclude",
        ["run-restore"] = Root + "/runs/{run}/include",
        ["run-look"] = Root + "/runs/{run}/inspect",
        ["run-back"] = Root + "/runs/{run}/back",
        ["section"] = Root + "/studies/{study}/sections",
        ["uncertainty-picture"] = Root + "/uncertainty/picture",
        ["curves-read"] = Root + "/curves/read",
        ["curves-table"] = Root + "/curves/table",
        ["curves-keep"] = Root + "/curves/keep",
        ["study"] = Root + "/studies/{study}",
        ["study-versions"] = Root + "/studies/{study}/versions",
        ["study-work"] = Root + "/studies/{study}/activate",
        ["study-plan"] = Root + "/studies/plan",
        ["study-make"] = Root + "/studies",
        ["study-rename"] = Root + "/studies/{study}/rename-condition",
        ["study-back"] = Root + "/studies/{study}/back",
        ["study-not-printed"] = Root + "/studies/{study}/not-printed",
        ["study-printed"] = Root + "/studies/{study}/printed",
        ["study-join-prints"] = Root + "/studies/{study}/join-prints",
        ["study-questions"] = Root + "/studies/{study}/questions",
        ["study-against"] = Root + "/studies/{study}/against",
        ["study-control"] = Root + "/studies/{study}/control",
        ["stretch-photo"] = Root + "/studies/{study}/stretch-photo",
        ["print-record-look"] = Root + "/studies/{study}/print-records/look",
        ["print-record"] = Root + "/studies/{study}/print-records",
    };

    /// <summary>The address of a short name, which may bring a query along.</summary>
    /// <param name="what">For example <c>run-trace?run=1</c>.</param>
    /// <param name="body">JSON that goes with it.</param>
    public static string Of(string what, string? body = null)
    {
        string[] parts = what.Split('?', 2);
        string address = Known.GetValueOrDefault(parts[0], $"{Root}/{parts[0]}");
        List<string> rest = [];
        foreach (string pair in parts.Length > 1 ? parts[1].Split('&') : [])
        {
            string[] sides = pair.Split('=', 2);
            if (address.Contains($"{{{sides[0]}}}", StringComparison.Ordinal)) address = address.Replace($"{{{sides[0]}}}", sides[1],
                StringComparison.Ordinal);
            else rest.Add(pair);
        }

        foreach (string name in new[] { "run", "study" }.Where(name => address.Contains($"{{{name}}}", StringComparison.Ordinal)))
            address = address.Replace($"{{{name}}}", Uri.EscapeDataString(Member(body, name) ?? "none"), StringComparison.Ordinal);
        return rest.Count == 0 ? address : $"{address}?{string.Join('&', rest)}";
    }

    private static string? Member(string? body, string name)
    {
        try
        {
            using JsonDocument json = JsonDocument.Parse(body ?? "{}");
            return json.RootElement.ValueKind == JsonValueKind.Object && json.RootElement.TryGetProperty(name, out JsonElement value)
                && value.ValueKind == JsonValueKind.String ? value.GetString() : null;
        }
        catch (JsonException)
        {
            return null;
        }
    }
}
