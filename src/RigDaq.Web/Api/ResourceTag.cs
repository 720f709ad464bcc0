using System.Globalization;
using RigDaq.App;

namespace RigDaq.Web.Api;

/// <summary>
/// Which state of a study or a run somebody was shown, as HTTP has it (RFC 9110, 8.8.3 and 13.1.1): a study's number of versions and a
/// run's revision are its entity tag; a change that names another one in If-Match is not done.
/// </summary>
internal static class ResourceTag
{
    /// <summary>The codes of what is refused because somebody else was faster.</summary>
    private static readonly string[] Meanwhile = ["answers.correctedMeanwhile", "answers.studyChangedMeanwhile"];

    /// <summary>Tells the state that is shown.</summary>
    internal static void Tell(HttpContext context, int number) =>
        context.Response.Headers.ETag = string.Create(CultureInfo.InvariantCulture, $"\"{number}\"");

    /// <summary>The state that a change is meant for; null where none is named, -1 where it can be none of ours.</summary>
    internal static int? Wanted(HttpContext context) => context.Request.Headers.IfMatch.ToString() is not { Length: > 0 } tag || tag == "*"
        ? null : int.TryParse(tag.Trim('"'), NumberStyles.None, CultureInfo.InvariantCulture, out int number) ? number : -1;

    /// <summary>The status of something that was not done.</summary>
    internal static int StatusOf(Result refused, bool named) =>
        named && refused.Reasons.Any(reason => Meanwhile.Contains(reason.Code)) ? StatusCodes.Status412PreconditionFailed
            : StatusCodes.Status409Conflict;
}
