using System.Text;
using RigDaq.App;
using RigDaq.App.Text;
using RigDaq.Web.Access;
using RigDaq.Web.Pages;
using RigDaq.Web.Requests;
using RigDaq.Web.Services;
using RigDaq.Web.Views;

namespace RigDaq.Web.Endpoints;

/// <summary>The requests of the page that tells where an uncertainty comes from. They only look.</summary>
internal static class UncertaintyEndpoints
{
    internal static void MapUncertainty(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/api/uncertainty", AnswerAsync);
        routes.MapGet("/api/uncertainty-picture", PictureAsync);
    }

    private static Task AnswerAsync(HttpContext context, UncertaintyService desk)
    {
        if (UncertaintyRequest.From(context.Request.Query) is not { } ask) return RefuseAsync(context, StatusCodes.Status400BadRequest, PageText.Of("answers.uncertaintyOutOfRange"));
        (OriginsView? view, string problem) = desk.Answer(ask);
        return view is null ? RefuseAsync(context, StatusCodes.Status404NotFound, problem) : GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, view);
    }

    private static async Task PictureAsync(HttpContext context, UncertaintyService desk, DocumentStore shelf, DashboardAccess access)
    {
        if (UncertaintyRequest.From(context.Request.Query) is not { } ask)
        {
            await RefuseAsync(context, StatusCodes.Status400BadRequest, PageText.Of("answers.uncertaintyOutOfRange")).ConfigureAwait(false);
            return;
        }

        bool dark = context.Request.Query["scheme"] == "dark", narrow = context.Request.Query["narrow"] == "1";
        (byte[]? svg, string? busy) = await shelf.GetAsync(
            $"uncertainty {dark} {narrow} {ask}", access.HasToken(context), () => Task.Run(() => desk.Svg(ask, dark, narrow) is { } text ? Encoding.UTF8.GetBytes(text) : null),
            context.RequestAborted).ConfigureAwait(false);
        if (busy is not null)
        {
            await DocumentStore.SendAwayAsync(context, busy).ConfigureAwait(false);
            return;
        }

        if (svg is null)
        {
            await RefuseAsync(context, StatusCodes.Status404NotFound, PageText.Of("answers.noUncertainty")).ConfigureAwait(false);
            return;
        }

        PageFiles.AddSafeHeaders(context.Response, PageFiles.DocumentPolicy);
        context.Response.Headers.CacheControl = "no-store";
        context.Response.ContentType = "image/svg+xml";
        await context.Response.Body.WriteAsync(svg, context.RequestAborted).ConfigureAwait(false);
    }

    private static Task RefuseAsync(HttpContext context, int status, string words) => GuardedRequests.AnswerAsync(context, status, Result.Because(words));
}
