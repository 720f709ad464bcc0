using System.Text;
using Microsoft.Net.Http.Headers;
using RigDaq.App;
using RigDaq.Text;
using RigDaq.Web.Pages;

namespace RigDaq.Web.Access;

/// <summary>Answers that are a document of their own: a report, a picture, a sheet of labels. Each may style itself, and touches nothing
/// else.</summary>
internal static class Documents
{
    /// <summary>Sends one, or says that there is none, or when to come again.</summary>
    /// <param name="context">The request.</param>
    /// <param name="name">Which: equal names are equal documents.</param>
    /// <param name="type">Its media type.</param>
    /// <param name="make">Computes it where it is not kept; null where there is none.</param>
    /// <param name="missing">The key of what is said where there is none.</param>
    /// <param name="fileName">What it is to be kept as; null to be shown.</param>
    internal static async Task SendAsync(HttpContext context, string name, string type, Func<Task<byte[]?>> make, string missing,
        string? fileName = null)
    {
        IServiceProvider services = context.RequestServices;
        bool hasKey = services.GetRequiredService<DashboardAccess>().MayOperate(context);
        (byte[]? bytes, Sentence? busy) = await services.GetRequiredService<DocumentStore>()
            .GetAsync(name, hasKey, make, context.RequestAborted).ConfigureAwait(false);
        if (busy is not null)
        {
            await DocumentStore.SendAwayAsync(context, busy).ConfigureAwait(false);
            return;
        }

        if (bytes is null)
        {
            await GuardedRequests.AnswerAsync(context, StatusCodes.Status404NotFound, Result.Refused(missing)).ConfigureAwait(false);
            return;
        }

        PageFiles.AddSafeHeaders(context.Response, PageFiles.DocumentPolicy);
        context.Response.Headers.CacheControl = "no-store";
        context.Response.ContentType = type;
        if (fileName is not null) ToBeKeptAs(context, fileName);
        await context.Response.Body.WriteAsync(bytes, context.RequestAborted).ConfigureAwait(false);
    }

    /// <summary>Sends a file that is there, to be kept.</summary>
    /// <param name="context">The request.</param>
    /// <param name="path">Where it is.</param>
    /// <param name="type">Its media type.</param>
    /// <param name="fileName">What it is to be kept as.</param>
    internal static Task SendFileAsync(HttpContext context, string path, string type, string fileName)
    {
        PageFiles.AddSafeHeaders(context.Response, PageFiles.DocumentPolicy);
        context.Response.Headers.CacheControl = "no-store";
        context.Response.ContentType = type;
        ToBeKeptAs(context, fileName);
        return context.Response.SendFileAsync(path, context.RequestAborted);
    }

    private static void ToBeKeptAs(HttpContext context, string fileName)
    {
        var disposition = new ContentDispositionHeaderValue("attachment");
        disposition.SetHttpFileName(fileName);
        context.Response.Headers.ContentDisposition = disposition.ToString();
    }

    /// <summary>Sends a picture that holds a secret, or says why there is none: it is kept nowhere.</summary>
    internal static Task SendSecretSvgAsync(HttpContext context, string? svg, string missing)
    {
        if (svg is null) return GuardedRequests.MissingAsync(context, missing);
        PageFiles.AddSafeHeaders(context.Response, PageFiles.DocumentPolicy);
        context.Response.Headers.CacheControl = "no-store";
        context.Response.ContentType = "image/svg+xml";
        return context.Response.WriteAsync(svg, context.RequestAborted);
    }

    /// <summary>Sends a picture.</summary>
    /// <inheritdoc cref="SendAsync"/>
    internal static Task SendSvgAsync(HttpContext context, string name, Func<string?> make, string missing) => SendAsync(
        context, name, "image/svg+xml", () => Task.Run(() => make() is { } text ? Encoding.UTF8.GetBytes(text) : null), missing);
}
