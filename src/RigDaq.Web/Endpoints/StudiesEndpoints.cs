using System.Globalization;
using Microsoft.Net.Http.Headers;
using RigDaq.App;
using RigDaq.App.Studies;
using RigDaq.App.Text;
using RigDaq.Web.Access;
using RigDaq.Web.Pages;
using RigDaq.Web.Services;

namespace RigDaq.Web.Endpoints;

/// <summary>The requests of the page of studies. Looking wants nothing; whatever changes something wants the token.</summary>
internal static class StudiesEndpoints
{
    internal static void MapStudies(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/api/studies", (HttpContext context, StudyService desk, DashboardAccess access) =>
            GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, desk.List(access.HasToken(context))));
        routes.MapGet("/api/study", (HttpContext context, StudyService desk, DashboardAccess access) =>
            desk.Page(context.Request.Query["study"], access.HasToken(context)) is { } page
                ? GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, page) : MissingAsync(context, PageText.Of("answers.noSuchStudy")));
        routes.MapGet("/api/study-versions", (HttpContext context) =>
            GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, Changes(context).Versions(context.Request.Query["study"].ToString())));
        routes.MapGet("/api/earlier", (HttpContext context, StudyService desk) => GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, desk.Earlier()));
        routes.MapGet("/labels/{study}", LabelsAsync);
        routes.MapGuarded<StudyRequest>("study-work", (context, ask) => Desk(context).WorkAsync(ask));
        routes.MapGuarded<StudyMakeRequest>("study-plan", (context, ask) => Task.FromResult(Desk(context).LookAtPlan(ask)));
        routes.MapGuarded<StudyMakeRequest>("study-make", (context, ask) => Desk(context).MakeAsync(ask));
        routes.MapGuarded<StudyRequest>("study-rename", (context, ask) => Task.FromResult(Changes(context).Rename(ask)));
        routes.MapGuarded<StudyRequest>("study-back", (context, ask) => Task.FromResult(Changes(context).Back(ask)));
        routes.MapGuarded<StretchRequest>("study-not-printed", (context, ask) => Task.FromResult(Prints(context).NotPrinted(ask)));
        routes.MapGuarded<StretchRequest>("study-printed", (context, ask) => Task.FromResult(Prints(context).Printed(ask)));
        routes.MapGuarded<JoinRequest>("study-join-prints", (context, ask) => Task.FromResult(Prints(context).Join(ask)));
        routes.MapGuarded<QuestionsRequest>("study-questions", (context, ask) => Task.FromResult(Prints(context).Questions(ask)));
        routes.MapGet("/api/stretch-photo", context => PhotoRequests.SendAsync(context, StretchOf(context) is { } ask ? Prints(context).PhotoOf(ask) : null));
        routes.MapPost("/api/stretch-photo", context => PhotoRequests.KeepAsync(context, photo =>
            StretchOf(context) is { } ask ? Prints(context).Photo(ask, photo) : Result.Refused("answers.noSuchStretch")));
        routes.MapGuarded<StudyRequest>("study-against", (context, ask) => Task.FromResult(Changes(context).Against(ask)));
        routes.MapGuarded<StudyRequest>("study-control", (context, ask) => Task.FromResult(Changes(context).Control(ask)));
        routes.MapGuarded<PrintRecordRequest>("print-record-look", (context, ask) => Task.FromResult(Records(context).Look(ask)));
        routes.MapGuarded<PrintRecordRequest>("print-record", (context, ask) => Task.FromResult(Records(context).Keep(ask)));
    }

    private static async Task LabelsAsync(HttpContext context, string study, StudyService desk, DocumentStore shelf, DashboardAccess access)
    {
        bool blind = context.Request.Query["blind"] == "yes";
        (byte[]? pdf, string? busy) = await shelf.GetAsync(
            $"labels {blind} {study}", access.HasToken(context), () => Task.Run(() => desk.Labels(study, blind)), context.RequestAborted).ConfigureAwait(false);
        if (busy is not null)
        {
            await DocumentStore.SendAwayAsync(context, busy).ConfigureAwait(false);
            return;
        }

        if (pdf is null)
        {
            await MissingAsync(context, PageText.Of("answers.nothingToLabel")).ConfigureAwait(false);
            return;
        }

        PageFiles.AddSafeHeaders(context.Response, PageFiles.DocumentPolicy);
        context.Response.Headers.CacheControl = "no-store";
        var disposition = new ContentDispositionHeaderValue("attachment");
        disposition.SetHttpFileName($"{study}-labels.pdf");
        context.Response.Headers.ContentDisposition = disposition.ToString();
        context.Response.ContentType = "application/pdf";
        await context.Response.Body.WriteAsync(pdf, context.RequestAborted).ConfigureAwait(false);
    }

    /// <summary>The stretch that an address names; null where its setting is not a number.</summary>
    private static StretchRequest? StretchOf(HttpContext context)
    {
        IQueryCollection query = context.Request.Query;
        string setting = query["setting"].ToString();
        decimal value = 0;
        if (setting.Length > 0 && !decimal.TryParse(setting, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out value)) return null;
        return new StretchRequest { Study = query["study"].ToString(), Print = query["print"].ToString(), Setting = setting.Length > 0 ? value : null };
    }

    private static Task MissingAsync(HttpContext context, string words) =>
        GuardedRequests.AnswerAsync(context, StatusCodes.Status404NotFound, Result.Because(words));

    private static StudyService Desk(HttpContext context) => context.RequestServices.GetRequiredService<StudyService>();

    private static StudyEditor Changes(HttpContext context) => context.RequestServices.GetRequiredService<StudyEditor>();

    private static PrintService Prints(HttpContext context) => context.RequestServices.GetRequiredService<PrintService>();

    private static PrintRecordService Records(HttpContext context) => context.RequestServices.GetRequiredService<PrintRecordService>();
}
