using RigDaq.App.Studies;
using RigDaq.App.Text;
using RigDaq.Web.Access;
using RigDaq.Web.Api;
using RigDaq.Web.Views;

namespace RigDaq.Web.Endpoints;

/// <summary>The requests of the page of sections. Looking wants nothing; keeping wants the token.</summary>
internal static class SectionEndpoints
{
    internal static void MapSections(this IEndpointRouteBuilder routes)
    {
        routes.MapGet(ApiPaths.Root + "/sections", (HttpContext context, StudyPages pages, DashboardAccess access) =>
            GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK,
                pages.Sections(context.Request.Query["study"], access.MayOperate(context))))
            .Gives<SectionsView>("listSections", AppText.ApiListSections, new QueryPlace("study", AppText.ApiStudyPlace));
        routes.MapGuarded<SectionRequest>(ApiPaths.Study + "/sections", "keepSection", AppText.ApiKeepSection, (context, asked) =>
            Task.FromResult(context.RequestServices.GetRequiredService<SectionService>().Measure(asked)));
    }
}
