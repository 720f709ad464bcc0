namespace RigDaq.Web;

/// <summary>The requests of the page of sections. Looking wants nothing; keeping wants the token.</summary>
internal static class SectionEndpoints
{
    internal static void MapSections(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/api/sections", (HttpContext context, SectionDesk desk, DashboardAccess access) =>
            GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, desk.List(context.Request.Query["study"], access.HasToken(context))));
        routes.MapGuarded<SectionAsk>("section", (context, ask) =>
            Task.FromResult(context.RequestServices.GetRequiredService<SectionDesk>().Measure(ask)));
    }
}
