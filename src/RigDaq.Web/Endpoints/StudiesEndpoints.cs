using System.Globalization;
using RigDaq.App;
using RigDaq.App.Studies;
using RigDaq.App.Text;
using RigDaq.Web.Access;
using RigDaq.Web.Api;
using RigDaq.Web.Views;

namespace RigDaq.Web.Endpoints;

/// <summary>The requests of the page of studies. Looking wants nothing; whatever changes something wants the token.</summary>
internal static class StudiesEndpoints
{
    internal static void MapStudies(this IEndpointRouteBuilder routes)
    {
        routes.MapGet(ApiPaths.Root + "/studies", (HttpContext context, StudyPages pages, DashboardAccess access) =>
            GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, pages.List(access.MayOperate(context))))
            .Gives<StudiesView>("listStudies", AppText.ApiListStudies);
        routes.MapGet(ApiPaths.Study, PageAsync).Gives<StudyPageView>("lookAtStudy", AppText.ApiLookAtStudy);
        routes.MapGet(ApiPaths.Study + "/versions", (HttpContext context, StudyPages pages) =>
            GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, pages.Versions(StudyOf(context))))
            .Gives<StudyVersionsView>("listVersions", AppText.ApiListVersions);
        routes.MapGet(ApiPaths.Root + "/earlier",
            (HttpContext context, StudyPages pages) => GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, pages.Earlier()))
            .Gives<EarlierView>("listEarlier", AppText.ApiListEarlier);
        routes.MapGet("/labels/{study}", LabelsAsync);
        routes.MapGuarded<StudyRequest>(ApiPaths.Study + "/activate", "activateStudy", AppText.ApiActivateStudy,
            (context, asked) => Studies(context).WorkAsync(asked));
        routes.MapGuarded<StudyMakeRequest>(ApiPaths.Root + "/studies/plan", "lookAtPlan", AppText.ApiLookAtPlan,
            (context, asked) => Task.FromResult(Studies(context).LookAtPlan(asked)));
        routes.MapGuarded<StudyMakeRequest>(ApiPaths.Root + "/studies", "makeStudy", AppText.ApiMakeStudy,
            (context, asked) => Studies(context).MakeAsync(asked));
        routes.MapGuarded<StudyRequest>(ApiPaths.Study + "/rename-condition", "renameCondition", AppText.ApiRenameCondition,
            (context, asked) => Task.FromResult(Changes(context).Rename(asked)));
        routes.MapGuarded<StudyRequest>(ApiPaths.Study + "/back", "bringStudyBack", AppText.ApiBringStudyBack,
            (context, asked) => Task.FromResult(Changes(context).Back(asked)));
        routes.MapGuarded<StretchRequest>(ApiPaths.Study + "/not-printed", "sayNotPrinted", AppText.ApiSayNotPrinted,
            (context, asked) => Task.FromResult(Prints(context).NotPrinted(asked)));
        routes.MapGuarded<StretchRequest>(ApiPaths.Study + "/printed", "sayPrinted", AppText.ApiSayPrinted,
            (context, asked) => Task.FromResult(Prints(context).Printed(asked)));
        routes.MapGuarded<JoinRequest>(ApiPaths.Study + "/join-prints", "joinPrints", AppText.ApiJoinPrints,
            (context, asked) => Task.FromResult(Prints(context).Join(asked)));
        routes.MapGuarded<QuestionsRequest>(ApiPaths.Study + "/questions", "chooseQuestions", AppText.ApiChooseQuestions,
            (context, asked) => Task.FromResult(Prints(context).Questions(asked)));
        routes.MapGet(ApiPaths.Study + "/stretch-photo",
            context => PhotoRequests.SendAsync(context, StretchOf(context) is { } asked ? Prints(context).PhotoOf(asked) : null))
            .GivesFile(Described.Photo, "sendStretchPhoto", AppText.ApiSendStretchPhoto, OfPrint, OfSetting);
        routes.MapPost(ApiPaths.Study + "/stretch-photo", context => PhotoRequests.KeepAsync(context, photo =>
            StretchOf(context) is { } asked ? Prints(context).Photo(asked, photo) : Result.Refused("answers.noSuchStretch")))
            .TakesFile<ResultView>(Described.Photo, "keepStretchPhoto", AppText.ApiKeepStretchPhoto, OfPrint, OfSetting);
        routes.MapGuarded<StudyRequest>(ApiPaths.Study + "/against", "setAgainst", AppText.ApiSetAgainst,
            (context, asked) => Task.FromResult(Changes(context).Against(asked)));
        routes.MapGuarded<StudyRequest>(ApiPaths.Study + "/control", "markControl", AppText.ApiMarkControl,
            (context, asked) => Task.FromResult(Changes(context).Control(asked)));
        routes.MapGuarded<PrintRecordRequest>(ApiPaths.Study + "/print-records/look", "lookAtPrintRecord", AppText.ApiLookAtPrintRecord,
            (context, asked) => Task.FromResult(Records(context).Look(asked)));
        routes.MapGuarded<PrintRecordRequest>(ApiPaths.Study + "/print-records", "keepPrintRecord", AppText.ApiKeepPrintRecord,
            (context, asked) => Task.FromResult(Records(context).Keep(asked)));
    }

    private static QueryPlace OfPrint => new("print", AppText.ApiPrint);

    private static QueryPlace OfSetting => new("setting", AppText.ApiSetting);

    private static Task PageAsync(HttpContext context, StudyPages pages, DashboardAccess access)
    {
        if (pages.Page(StudyOf(context), access.MayOperate(context)) is not { } page)
            return GuardedRequests.MissingAsync(context, "answers.noSuchStudy");
        ResourceTag.Tell(context, pages.Versions(StudyOf(context)).Count);
        return GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, page);
    }

    private static string StudyOf(HttpContext context) => ApiPaths.Value(context, "study") ?? "";

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
            Study = StudyOf(context),
            Print = query["print"].ToString(),
            Setting = setting.Length > 0 ? value : null
        };
    }

    private static StudyService Studies(HttpContext context) => context.RequestServices.GetRequiredService<StudyService>();

    private static StudyEditor Changes(HttpContext context) => context.RequestServices.GetRequiredService<StudyEditor>();

    private static PrintService Prints(HttpContext context) => context.RequestServices.GetRequiredService<PrintService>();

    private static PrintRecordService Records(HttpContext context) => context.RequestServices.GetRequiredService<PrintRecordService>();
}
