using RigDaq.App.Studies;
using RigDaq.Web.Access;
using RigDaq.Web.Views;

namespace RigDaq.Web.Endpoints;

/// <summary>The requests of the page of sections. Looking wants nothing; keeping wants the token.</summary>
internal static class SectionEndpoints
{
    internal static void MapSections(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/api/sections", (HttpContext context, StudyPages pages, DashboardAccess access) =>
            GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK,
                pages.Sections(context.Request.Query["study"], access.HasToken(context))));
        routes.MapGuarded<SectionRequest>("section", (context, asked) =>
            Task.FromResult(context.RequestServices.GetRequiredService<SectionService>().Measure(asked)));
    }
}
