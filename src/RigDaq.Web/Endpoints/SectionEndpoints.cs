using RigDaq.App.Studies;
using RigDaq.Web.Access;
using RigDaq.Web.Services;

namespace RigDaq.Web.Endpoints;

/// <summary>The requests of the page of sections. Looking wants nothing; keeping wants the token.</summary>
internal static class SectionEndpoints
{
    internal static void MapSections(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/api/sections", (HttpContext context, SectionService desk, DashboardAccess access) =>
            GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, desk.List(context.Request.Query["study"], access.HasToken(context))));
        routes.MapGuarded<SectionRequest>("section", (context, ask) =>
            Task.FromResult(context.RequestServices.GetRequiredService<SectionService>().Measure(ask)));
    }
}
