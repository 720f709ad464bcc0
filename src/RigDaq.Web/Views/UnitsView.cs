using RigDaq.App.Overview;
using RigDaq.Core.Quantities;
using RigDaq.Web.Pages;

namespace RigDaq.Web.Views;

/// <summary>The chosen units as the pages' scripts read them: figures reach a page in N, mm and MPa, and are converted where they are
/// shown.</summary>
/// <param name="Name">All three symbols; a page that was made for others loads itself again.</param>
/// <param name="Force">Of forces.</param>
/// <param name="Stress">Of strengths.</param>
/// <param name="Length">Of lengths.</param>
/// <param name="Area">Of sections.</param>
/// <param name="Speed">Of the crosshead.</param>
internal sealed record UnitsView(string Name, UnitView Force, UnitView Stress, UnitView Length, UnitView Area, UnitView Speed)
{
    /// <summary>Where the scripts find it.</summary>
    internal const string Path = "/js/units.js";

    internal static UnitsView From(Units units) => new(UnitNames.Of(units), UnitView.From(units.Force), UnitView.From(units.Stress),
        UnitView.From(units.Length), UnitView.From(units.Area), UnitView.From(units.Speed));

    /// <summary>As a module.</summary>
    internal static async Task SendAsync(HttpContext context, IDashboardData data)
    {
        byte[] bytes = [.. "// Made by the daemon from its configuration.\nexport const units = "u8,
            .. DashboardJson.Write(From(data.Units)), .. ";\n"u8];
        PageFiles.AddSafeHeaders(context.Response);
        context.Response.Headers.CacheControl = "no-store";
        context.Response.ContentType = "text/javascript; charset=utf-8";
        await context.Response.Body.WriteAsync(bytes, context.RequestAborted).ConfigureAwait(false);
    }
}

/// <summary>One unit.</summary>
/// <param name="Symbol">Behind a figure.</param>
/// <param name="Stored">How many of the kept unit make one.</param>
/// <param name="Decimals">How many more decimals a figure has than in the kept unit.</param>
internal sealed record UnitView(string Symbol, double Stored, int Decimals)
{
    internal static UnitView From(Unit unit) => new(unit.Symbol, unit.Stored, unit.Decimals(0));
}
