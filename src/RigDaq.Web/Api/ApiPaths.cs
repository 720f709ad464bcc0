using RigDaq.App.Overview;

namespace RigDaq.Web.Api;

/// <summary>The addresses of the interface: a version in front, the live rig by its name, what is kept below the archive it is kept
/// in.</summary>
internal static class ApiPaths
{
    /// <summary>Rises with a change that breaks somebody's program.</summary>
    internal const string Root = "/api/v1";

    /// <summary>The live rig; the name that a rig is configured by stands in it.</summary>
    internal const string Rig = Root + "/rigs/{rig}";

    /// <summary>The document that describes it all.</summary>
    internal const string Document = Root + "/openapi.json";

    internal const string Study = Root + "/studies/{study}";

    internal const string Jobs = Root + "/jobs";

    internal const string Run = Root + "/runs/{run}";

    /// <summary>Where the page's scripts find the rig's address.</summary>
    internal const string RigModule = "/js/rig.js";

    /// <summary>The address of one rig.</summary>
    internal static string Of(string rigName) => Rig.Replace("{rig}", Uri.EscapeDataString(rigName), StringComparison.Ordinal);

    /// <summary>A value that stands in the address, slashes in it and all; null where the address has none of that name.</summary>
    internal static string? Value(HttpContext context, string name) =>
        (context.Request.RouteValues[name] as string)?.Replace("%2F", "/", StringComparison.OrdinalIgnoreCase);

    /// <summary>Stands in an address for the one rig, where there is only one.</summary>
    private const string TheOne = "-";

    /// <summary>Whether an address names no rig, or the one that is here.</summary>
    internal static bool IsOfHere(HttpContext context) =>
        Value(context, "rig") is not { } named || named == TheOne
            || named == context.RequestServices.GetRequiredService<IDashboardData>().RigName;
}
