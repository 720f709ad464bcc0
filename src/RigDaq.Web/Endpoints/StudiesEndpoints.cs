using System.Globalization;
using RigDaq.App;
using RigDaq.App.Studies;
using RigDaq.Web.Access;
using RigDaq.Web.Views;

namespace RigDaq.Web.Endpoints;

/// <summary>The requests of the page of studies. Looking wants nothing; whatever changes something wants the token.</summary>
internal static class StudiesEndpoints
{
    internal static void MapStudies(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/api/studies", (HttpContext context, StudyPages pages, DashboardAccess access) =>
            GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, pages.List(access.HasToken(context))));
        routes.MapGet("/api/study", (HttpContext context, StudyPages pages, DashboardAccess access) =>
            pages.Page(context.Request.Query["study"], access.HasToken(context)) is { } page
                ? GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, page)
                    : MissingAsync(context, "answers.noSuchStudy"));
        routes.MapGet("/api/study-versions", (HttpContext context, StudyPages pages) =>
            GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, pages.Versions(context.Request.Query["study"].ToString())));
        routes.MapGet("/api/earlier",
            (HttpContext context, StudyPages pages) => GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, pages.Earlier()));
        routes.MapGet("/labels/{study}", LabelsAsync);
        routes.MapGuarded<StudyRequest>("study-work", (context, asked) => Studies(context).WorkAsync(asked));
        routes.MapGuarded<StudyMakeRequest>("study-plan", (context, asked) => Task.FromResult(Studies(context).LookAtPlan(asked)));
        routes.MapGuarded<StudyMakeRequest>("study-make", (context, asked) => Studies(context).MakeAsync(asked));
        routes.MapGuarded<StudyRequest>("study-rename", (context, asked) => Task.FromResult(Changes(context).Rename(asked)));
        routes.MapGuarded<StudyRequest>("study-back", (context, asked) => Task.FromResult(Changes(context).Back(asked)));
        routes.MapGuarded<StretchRequest>("study-not-printed", (context, asked) => Task.FromResult(Prints(context).NotPrinted(asked)));
        routes.MapGuarded<StretchRequest>("study-printed", (context, asked) => Task.FromResult(Prints(context).Printed(asked)));
        routes.MapGuarded<JoinRequest>("study-join-prints", (context, asked) => Task.FromResult(Prints(context).Join(asked)));
        routes.MapGuarded<QuestionsRequest>("study-questions", (context, asked) => Task.FromResult(Prints(context).Questions(asked)));
        routes.MapGet("/api/stretch-photo",
            context => PhotoRequests.SendAsync(context, StretchOf(context) is { } asked ? Prints(context).PhotoOf(asked) : null));
        routes.MapPost("/api/stretch-photo", context => PhotoRequests.KeepAsync(context, photo =>
            StretchOf(context) is { } asked ? Prints(context).Photo(asked, photo) : Result.Refused("answers.noSuchStretch")));
        routes.MapGuarded<StudyRequest>("study-against", (context, asked) => Task.FromResult(Changes(context).Against(asked)));
        routes.MapGuarded<StudyRequest>("study-control", (context, asked) => Task.FromResult(Changes(context).Control(asked)));
        routes.MapGuarded<PrintRecordRequest>("print-record-look", (context, asked) => Task.FromResult(Records(context).Look(asked)));
        routes.MapGuarded<PrintRecordRequest>("print-record", (context, asked) => Task.FromResult(Records(context).Keep(asked)));
    }

    private static Task LabelsAsync(HttpContext context, string study, StudyService studies)
    {
        bool blind = context.Request.Query["blind"] == "yes";
        return Documents.SendAsync(
            context, $"labels {blind} {study}", "application/pdf", () => Task.Run(() => studies.Labels(study, blind)),
                "answers.nothingToLabel", $"{study}-labels.pdf");
    }

    /// <summary>The stretch that an address names; null where its setting is not a number.</summary>
    private static StretchRequest? StretchOf(HttpContext context)
    {
        IQueryCollection query = context.Request.Query;
        string setting = query["setting"].ToString();
        decimal value = 0;
        if (setting.Length > 0 && !decimal.TryParse(setting, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint,
            CultureInfo.InvariantCulture, out value))
            return null;
        return new StretchRequest
        {
            Study = query["study"].ToString(),
            Print = query["print"].ToString(),
            Setting = setting.Length > 0 ? value : null
        };
    }

    private static Task MissingAsync(HttpContext context, string key) =>
        GuardedRequests.AnswerAsync(context, StatusCodes.Status404NotFound, Result.Refused(key));

    private static StudyService Studies(HttpContext context) => context.RequestServices.GetRequiredService<StudyService>();

    private static StudyEditor Changes(HttpContext context) => context.RequestServices.GetRequiredService<StudyEditor>();

    private static PrintService Prints(HttpContext context) => context.RequestServices.GetRequiredService<PrintService>();

    private static PrintRecordService Records(HttpContext context) => context.RequestServices.GetRequiredService<PrintRecordService>();
}
