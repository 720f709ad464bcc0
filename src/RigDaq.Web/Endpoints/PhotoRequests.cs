using RigDaq.App;
using RigDaq.App.Runs;
using RigDaq.Web.Access;
using RigDaq.Web.Pages;

namespace RigDaq.Web.Endpoints;

/// <summary>Requests whose body is a photo, and answers that are one.</summary>
internal static class PhotoRequests
{
    /// <summary>Keeps a photo for a page that holds the token; the body is the photo itself.</summary>
    internal static async Task KeepAsync(HttpContext context, Func<byte[], Result> keep)
    {
        if (context.RequestServices.GetRequiredService<DashboardAccess>().ReasonAgainst(context) is { } reason)
        {
            await GuardedRequests.AnswerAsync(context, StatusCodes.Status403Forbidden, Result.Because(reason)).ConfigureAwait(false);
            return;
        }

        if (await ReadAsync(context).ConfigureAwait(false) is not { } photo)
        {
            await GuardedRequests.AnswerAsync(context, StatusCodes.Status413PayloadTooLarge,
                Result.Refused("answers.photoTooLarge", ("n", StudyPhotos.BytesMax >> 20))).ConfigureAwait(false);
            return;
        }

        Result result = keep(photo);
        await GuardedRequests.AnswerAsync(context, result.Done ? StatusCodes.Status200OK : StatusCodes.Status409Conflict, result)
            .ConfigureAwait(false);
    }

    /// <summary>Sends a kept photo; says so where there is none.</summary>
    internal static async Task SendAsync(HttpContext context, (string Path, string MediaType)? photo)
    {
        if (photo is not { } kept)
        {
            await GuardedRequests.AnswerAsync(context, StatusCodes.Status404NotFound, Result.Refused("answers.noPhoto"))
                .ConfigureAwait(false);
            return;
        }

        PageFiles.AddSafeHeaders(context.Response, PageFiles.DocumentPolicy);
        context.Response.Headers.CacheControl = "no-store";
        context.Response.ContentType = kept.MediaType;
        await context.Response.SendFileAsync(kept.Path, context.RequestAborted).ConfigureAwait(false);
    }

    /// <summary>The body, or null where it is greater than a photo may be.</summary>
    private static async Task<byte[]?> ReadAsync(HttpContext context)
    {
        if (context.Request.ContentLength > StudyPhotos.BytesMax) return null;
        using var bytes = new MemoryStream();
        byte[] part = new byte[64 * 1024];
        int read;
        while ((read = await context.Request.Body.ReadAsync(part, context.RequestAborted).ConfigureAwait(false)) > 0)
        {
            if (bytes.Length + read > StudyPhotos.BytesMax) return null;
            bytes.Write(part, 0, read);
        }

        return bytes.ToArray();
    }
}
