using System.Text.Json;
using RigDaq.App;
using RigDaq.App.Callers;
using RigDaq.App.Journal;
using RigDaq.App.Overview;
using RigDaq.App.Runs;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Web.Api;
using RigDaq.Web.Pages;
using RigDaq.Web.Views;

namespace RigDaq.Web.Access;

/// <summary>Requests that want the token, this machine's name and this page's origin; and how all requests are read and answered.</summary>
internal static class GuardedRequests
{
    /// <summary>No request of the page's is greater.</summary>
    internal const int RequestBytesMax = 16 * 1024;

    /// <summary>Maps something that is done, and wants the token. What became of it is a <see cref="ResultView"/>, or a
    /// <see cref="ProblemView"/> where it was not done.</summary>
    /// <param name="routes">All of them.</param>
    /// <param name="path">Its address.</param>
    /// <param name="name">In the document of the interface.</param>
    /// <param name="summary">There, too.</param>
    /// <param name="run">Does it.</param>
    /// <param name="needed">The role that it wants.</param>
    internal static void MapGuarded<TRequest>(this IEndpointRouteBuilder routes, string path, string name, string summary,
        Func<HttpContext, TRequest, Task<Result>> run, CallerRole needed = CallerRole.Operate)
        where TRequest : class, IPageRequest, new() => routes.MapGuarded<TRequest>(path, async (context, request) =>
        {
            int? seen = ResourceTag.Wanted(context);
            if (request is ISeenRequest shown && seen is { } number) shown.Seen = number;
            Result result = await run(context, request).ConfigureAwait(false);
            if (result.Done) Note(context, name);
            await AnswerAsync(context, result.Done ? StatusCodes.Status200OK : ResourceTag.StatusOf(result, seen is not null), result)
                .ConfigureAwait(false);
        }, needed).Does<TRequest>(name, summary);

    // What only looks is no deed.
    private static void Note(HttpContext context, string name)
    {
        if (!name.StartsWith("lookAt", StringComparison.Ordinal)) context.RequestServices.GetRequiredService<HappeningBook>()
            .Did(name, ApiPaths.Value(context, "study") ?? ApiPaths.Value(context, "run") ?? "");
    }

    /// <summary>Maps something that wants the token and answers by itself.</summary>
    internal static IEndpointConventionBuilder MapGuarded<TRequest>(this IEndpointRouteBuilder routes, string path,
        Func<HttpContext, TRequest, Task> answer, CallerRole needed = CallerRole.Operate)
        where TRequest : class, IPageRequest, new() => routes.MapPost(path, async context =>
        {
            if (context.RequestServices.GetRequiredService<DashboardAccess>().ReasonAgainst(context, needed) is { } reason)
            {
                await AnswerAsync(context, StatusCodes.Status403Forbidden, Result.Because(reason)).ConfigureAwait(false);
                return;
            }

            if (await ReadAsync<TRequest>(context).ConfigureAwait(false) is not { } request)
            {
                await AnswerAsync(context, StatusCodes.Status400BadRequest, Result.Refused("answers.notTheJson")).ConfigureAwait(false);
                return;
            }

            if (request is IStudyRequest ofStudy && ApiPaths.Value(context, "study") is { } study) ofStudy.Study = study;
            if (request is RunRequest ofRun && ApiPaths.Value(context, "run") is { } named) ofRun.Run = named;
            await answer(context, request).ConfigureAwait(false);
        });

    /// <summary>The request's body; null where it is too long or no such JSON.</summary>
    internal static async Task<TRequest?> ReadAsync<TRequest>(HttpContext context) where TRequest : class, IPageRequest, new()
    {
        byte[] body = new byte[RequestBytesMax];
        int length = 0;
        while (length < body.Length)
        {
            int read = await context.Request.Body.ReadAsync(body.AsMemory(length), context.RequestAborted).ConfigureAwait(false);
            if (read == 0) break;
            length += read;
        }

        if (length == 0) return new TRequest();
        if (length == body.Length) return null;
        try
        {
            return IsUnfit(body.AsSpan(0, length)) ? null
                : (TRequest?)JsonSerializer.Deserialize(body.AsSpan(0, length), typeof(TRequest), DashboardJson.Camel);
        }
        catch (JsonException)
        {
            return null;
        }
    }

    /// <summary>Whether a list holds a null (the reader refuses a null member by its annotation, but not one inside a list), or a text a
    /// control character that no field of the page can hold.</summary>
    /// <exception cref="JsonException">It is no JSON.</exception>
    private static bool IsUnfit(ReadOnlySpan<byte> json)
    {
        var reader = new Utf8JsonReader(json);
        bool isMember = false;
        while (reader.Read())
        {
            // A null that is no member's value stands in a list, or is all there is.
            if (reader.TokenType == JsonTokenType.Null && !isMember) return true;
            isMember = reader.TokenType == JsonTokenType.PropertyName;
            if (reader.TokenType == JsonTokenType.String && !PlainText.IsPlain(reader.GetString(), ofSeveralLines: true)) return true;
        }

        return false;
    }

    internal static Task AnswerAsync<T>(HttpContext context, int status, T answer) =>
        WriteAsync(context, status, DashboardJson.Write(answer));

    /// <summary>An answer, said in the units that were chosen.</summary>
    internal static Task AnswerAsync(HttpContext context, int status, Result answer)
    {
        Units units = context.RequestServices.GetRequiredService<IDashboardData>().Units;
        return answer.Done ? WriteAsync(context, status, DashboardJson.Write(ResultView.Of(answer, units)))
            : WriteAsync(context, status, DashboardJson.Write(ProblemView.Of(answer, status, units)), "application/problem+json");
    }

    /// <summary>Says that there is no such thing.</summary>
    /// <param name="context">The request.</param>
    /// <param name="key">Of what is said.</param>
    internal static Task MissingAsync(HttpContext context, string key) =>
        AnswerAsync(context, StatusCodes.Status404NotFound, Result.Refused(key));

    private static async Task WriteAsync(HttpContext context, int status, byte[] bytes, string type = "application/json")
    {
        context.Response.StatusCode = status;
        context.Response.ContentType = type;
        context.Response.Headers.CacheControl = "no-store";
        PageFiles.AddSafeHeaders(context.Response);
        await context.Response.Body.WriteAsync(bytes, context.RequestAborted).ConfigureAwait(false);
    }
}
