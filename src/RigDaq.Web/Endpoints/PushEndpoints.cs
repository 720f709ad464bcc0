using RigDaq.App;
using RigDaq.App.Push;
using RigDaq.App.Text;
using RigDaq.Web.Access;
using RigDaq.Web.Api;
using RigDaq.Web.Views;

namespace RigDaq.Web.Endpoints;

/// <summary>Browsers that hear of alarms while no page is open.</summary>
internal static class PushEndpoints
{
    private const string Push = ApiPaths.Root + "/push";

    internal static void MapPush(this IEndpointRouteBuilder routes)
    {
        routes.MapGet(Push, (HttpContext context, PushBook book, DashboardAccess access) => access.MayOperate(context)
            ? GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, new PushView(book.PublicKey, book.Devices.Count))
            : GuardedRequests.AnswerAsync(context, StatusCodes.Status403Forbidden, Result.Because(DashboardAccess.Without(context))))
            .Gives<PushView>("lookAtPush", AppText.ApiLookAtPush);
        routes.MapGuarded<PushRequest>(Push, "hearAlarms", AppText.ApiHearAlarms, (context, asked) => Task.FromResult(Result.Of(() =>
        {
            context.RequestServices.GetRequiredService<PushBook>().Add(asked);
            return Result.Ok("answers.pushAdded");
        })));
        routes.MapGuarded<PushRequest>(Push + "/remove", "hearNoAlarms", AppText.ApiHearNoAlarms, (context, asked) =>
            Task.FromResult(Result.Of(() =>
            {
                context.RequestServices.GetRequiredService<PushBook>().Remove(asked.Endpoint);
                return Result.Ok("answers.pushRemoved");
            })));
    }
}
