using RigDaq.App;
using RigDaq.App.Access;
using RigDaq.Web.Api;
using RigDaq.Web.Pages;

namespace RigDaq.Web.Access;

/// <summary>What each way in lets through: on this machine everything (what changes something asks for the key by itself), by the link
/// the state and the stop, by log-in everything that a role may.</summary>
internal static class WhoComesIn
{
    /// <summary>Where anybody on this machine finds the stop, whatever the rig is called.</summary>
    internal const string StopPath = "/api/stop";

    /// <summary>A name that is none of ours gets nothing, except that it may stop on this machine.</summary>
    internal static Task OnlyByOwnNamesAsync(HttpContext context, RequestDelegate next)
    {
        AccessOptions options = context.RequestServices.GetRequiredService<AccessOptions>();
        bool mayCome = LocalCaller.Of(context) is not null || OwnNames.Has(context, options)
            || (Entrances.Of(context) is Entrance.OwnMachine && IsStop(context.Request.Path));
        return mayCome ? next(context) : GuardedRequests.AnswerAsync(context, StatusCodes.Status421MisdirectedRequest,
            Result.Refused("answers.ownNameOnly"));
    }

    /// <summary>From elsewhere only what is open to whoever asks.</summary>
    internal static Task OnlyWhatIsOpenAsync(HttpContext context, RequestDelegate next)
    {
        OpenTo? open = context.GetEndpoint()?.Metadata.GetMetadata<OpenTo>();
        Entrance entrance = Entrances.Of(context);
        if (entrance is Entrance.OwnMachine || open is { Everybody: true }) return next(context);
        return entrance is Entrance.Look ? LookAsync(context, next, open is not null) : OperateAsync(context, next);
    }

    /// <summary>Whether a page's cookie holds what the look link of now holds.</summary>
    internal static bool HasLink(HttpContext context) => context.RequestServices.GetRequiredService<LookLink>()
        .Fits(context.Request.Cookies[LinkCookie(context)] ?? "");

    /// <summary>The page that stands at the root: the dashboard, or what whoever comes from elsewhere begins with.</summary>
    internal static Task SendFirstPageAsync(HttpContext context)
    {
        bool hasToLogIn = Entrances.Of(context) is Entrance.Operate
            && context.RequestServices.GetRequiredService<Sessions>().Find(context) is null;
        return PageFiles.SendAsync(context, Entrances.Of(context) is Entrance.Look ? PageFiles.LookPage
            : hasToLogIn ? PageFiles.LogInPage : "index.html");
    }

    internal static string LinkCookie(HttpContext context) => DashboardAccess.CookieName(context) + "-look";

    internal static bool IsStop(PathString path) => path == StopPath
        || (path.StartsWithSegments(ApiPaths.Root + "/rigs") && path.Value!.EndsWith("/stop", StringComparison.Ordinal));

    private static Task LookAsync(HttpContext context, RequestDelegate next, bool isOpen)
    {
        if (!isOpen) return GuardedRequests.MissingAsync(context, "answers.onlyLooksHere");
        return HasLink(context) ? next(context) : GuardedRequests.AnswerAsync(context, StatusCodes.Status403Forbidden,
            Result.Refused("answers.needsLookLink"));
    }

    private static Task OperateAsync(HttpContext context, RequestDelegate next)
    {
        Sessions sessions = context.RequestServices.GetRequiredService<Sessions>();
        if (sessions.Find(context) is not null || (IsStop(context.Request.Path) && sessions.MayStop(context))) return next(context);
        bool isPage = HttpMethods.IsGet(context.Request.Method)
            && context.Request.Headers.Accept.ToString().Contains("text/html", StringComparison.Ordinal);
        if (isPage)
        {
            context.Response.Redirect("/" + PageFiles.LogInPage);
            return Task.CompletedTask;
        }

        return GuardedRequests.AnswerAsync(context, StatusCodes.Status401Unauthorized, Result.Refused("answers.logInFirst"));
    }
}
