using System.Globalization;
using RigDaq.App;
using RigDaq.App.Journal;
using RigDaq.Web.Access;

namespace RigDaq.Web.Endpoints;

/// <summary>What happened, for who may know by whom.</summary>
internal static class JournalEndpoint
{
    internal static Task SendAsync(HttpContext context, JournalReader journal, DashboardAccess access)
    {
        // Names and addresses of people are for those who work here.
        if (!access.MayOperate(context)) return GuardedRequests.AnswerAsync(context, StatusCodes.Status403Forbidden,
            Result.Because(DashboardAccess.Without(context)));
        if (!TryRead(context, "from", out DateTimeOffset? from) || !TryRead(context, "to", out DateTimeOffset? to))
            return GuardedRequests.AnswerAsync(context, StatusCodes.Status400BadRequest, Result.Refused("answers.noMoment"));
        return GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, journal.Read(from, to));
    }

    private static bool TryRead(HttpContext context, string name, out DateTimeOffset? moment)
    {
        string said = context.Request.Query[name].ToString();
        bool isRead = DateTimeOffset.TryParse(said, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out DateTimeOffset read);
        moment = isRead ? read : null;
        return isRead || said.Length == 0;
    }
}
