namespace RigDaq.Daemon.Dashboard;

/// <summary>The requests of the page of studies. Looking wants nothing; whatever changes something wants the token.</summary>
internal static class StudiesEndpoints
{
    internal static void MapStudies(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/api/studies", (HttpContext context, StudyDesk desk, DashboardAccess access) =>
            GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, desk.List(access.HasToken(context))));
        routes.MapGuarded<StudyAsk>("study-work", (context, ask) => Desk(context).WorkAsync(ask));
    }

    private static StudyDesk Desk(HttpContext context) => context.RequestServices.GetRequiredService<StudyDesk>();
}
