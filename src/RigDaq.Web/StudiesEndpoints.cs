using System.Globalization;
using Microsoft.Net.Http.Headers;
using RigDaq.App.Text;
using RigDaq.Rig.Control;

namespace RigDaq.Web;

/// <summary>The requests of the page of studies. Looking wants nothing; whatever changes something wants the token.</summary>
internal static class StudiesEndpoints
{
    internal static void MapStudies(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/api/studies", (HttpContext context, StudyDesk desk, DashboardAccess access) =>
            GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, desk.List(access.HasToken(context))));
        routes.MapGet("/api/study", (HttpContext context, StudyDesk desk, DashboardAccess access) =>
            desk.Page(context.Request.Query["study"], access.HasToken(context)) is { } page
                ? GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, page) : MissingAsync(context, PageText.Of("answers.noSuchStudy")));
        routes.MapGet("/api/study-versions", (HttpContext context) =>
            GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, Changes(context).Versions(context.Request.Query["study"].ToString())));
        routes.MapGet("/api/earlier", (HttpContext context, StudyDesk desk) => GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, desk.Earlier()));
        routes.MapGet("/labels/{study}", LabelsAsync);
        routes.MapGuarded<StudyAsk>("study-work", (context, ask) => Desk(context).WorkAsync(ask));
        routes.MapGuarded<StudyMakeAsk>("study-plan", (context, ask) => Task.FromResult(Desk(context).LookAtPlan(ask)));
        routes.MapGuarded<StudyMakeAsk>("study-make", (context, ask) => Desk(context).MakeAsync(ask));
        routes.MapGuarded<StudyAsk>("study-rename", (context, ask) => Task.FromResult(Changes(context).Rename(ask)));
        routes.MapGuarded<StudyAsk>("study-back", (context, ask) => Task.FromResult(Changes(context).Back(ask)));
        routes.MapGuarded<StretchAsk>("study-not-printed", (context, ask) => Task.FromResult(Prints(context).NotPrinted(ask)));
        routes.MapGuarded<StretchAsk>("study-printed", (context, ask) => Task.FromResult(Prints(context).Printed(ask)));
        routes.MapGuarded<JoinAsk>("study-join-prints", (context, ask) => Task.FromResult(Prints(context).Join(ask)));
        routes.MapGuarded<QuestionsAsk>("study-questions", (context, ask) => Task.FromResult(Prints(context).Questions(ask)));
        routes.MapGet("/api/stretch-photo", context => PhotoRequests.SendAsync(context, StretchOf(context) is { } ask ? Prints(context).PhotoOf(ask) : null));
        routes.MapPost("/api/stretch-photo", context => PhotoRequests.KeepAsync(context, photo =>
            StretchOf(context) is { } ask ? Prints(context).Photo(ask, photo) : CommandResult.Refused(PageText.Of("answers.noSuchStretch"))));
        routes.MapGuarded<StudyAsk>("study-against", (context, ask) => Task.FromResult(Changes(context).Against(ask)));
        routes.MapGuarded<StudyAsk>("study-control", (context, ask) => Task.FromResult(Changes(context).Control(ask)));
        routes.MapGuarded<PrintRecordAsk>("print-record-look", (context, ask) => Task.FromResult(Records(context).Look(ask)));
        routes.MapGuarded<PrintRecordAsk>("print-record", (context, ask) => Task.FromResult(Records(context).Keep(ask)));
    }

    private static async Task LabelsAsync(HttpContext context, string study, StudyDesk desk, DocumentShelf shelf, DashboardAccess access)
    {
        bool blind = context.Request.Query["blind"] == "yes";
        (byte[]? pdf, string? busy) = await shelf.GetAsync(
            $"labels {blind} {study}", access.HasToken(context), () => Task.Run(() => desk.Labels(study, blind)), context.RequestAborted).ConfigureAwait(false);
        if (busy is not null)
        {
            await DocumentShelf.SendAwayAsync(context, busy).ConfigureAwait(false);
            return;
        }

        if (pdf is null)
        {
            await MissingAsync(context, PageText.Of("answers.nothingToLabel")).ConfigureAwait(false);
            return;
        }

        PageFiles.AddSafeHeaders(context.Response, DashboardHosting.DocumentPolicy);
        context.Response.Headers.CacheControl = "no-store";
        var disposition = new ContentDispositionHeaderValue("attachment");
        disposition.SetHttpFileName($"{study}-labels.pdf");
        context.Response.Headers.ContentDisposition = disposition.ToString();
        context.Response.ContentType = "application/pdf";
        await context.Response.Body.WriteAsync(pdf, context.RequestAborted).ConfigureAwait(false);
    }

    /// <summary>The stretch that an address names; null where its setting is not a number.</summary>
    private static StretchAsk? StretchOf(HttpContext context)
    {
        IQueryCollection query = context.Request.Query;
        string setting = query["setting"].ToString();
        decimal value = 0;
        if (setting.Length > 0 && !decimal.TryParse(setting, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out value)) return null;
        return new StretchAsk { Study = query["study"].ToString(), Print = query["print"].ToString(), Setting = setting.Length > 0 ? value : null };
    }

    private static Task MissingAsync(HttpContext context, string words) =>
        GuardedRequests.AnswerAsync(context, StatusCodes.Status404NotFound, CommandResult.Refused(words));

    private static StudyDesk Desk(HttpContext context) => context.RequestServices.GetRequiredService<StudyDesk>();

    private static StudyChanges Changes(HttpContext context) => context.RequestServices.GetRequiredService<StudyChanges>();

    private static PrintCorrections Prints(HttpContext context) => context.RequestServices.GetRequiredService<PrintCorrections>();

    private static PrintRecords Records(HttpContext context) => context.RequestServices.GetRequiredService<PrintRecords>();
}
