using System.Globalization;
using System.Net.NetworkInformation;
using System.Net.Sockets;
using QRCoder;
using RigDaq.App;
using RigDaq.App.Access;
using RigDaq.App.Callers;
using RigDaq.App.Text;
using RigDaq.Web.Access;
using RigDaq.Web.Api;
using RigDaq.Web.Requests;
using RigDaq.Web.Views;

namespace RigDaq.Web.Endpoints;

/// <summary>Coming in: by this start's key, by the look link, by name and password; and who may say who else may.</summary>
internal static class AccessEndpoints
{
    private const string Session = ApiPaths.Root + "/session";
    private const string Look = ApiPaths.Root + "/look";
    private const string Accounts = ApiPaths.Root + "/accounts";

    internal static void MapAccess(this IEndpointRouteBuilder routes)
    {
        routes.MapPost(Session, EnterAsync).Does<PageRequest>("enter", AppText.ApiEnter).OpenToEverybody();
        routes.MapGet(Session, WhoAsync).Gives<WhoView>("lookAtSession", AppText.ApiLookAtSession).OpenToEverybody();
        routes.MapPost(Session + "/log-in", LogInAsync).Does<LogInRequest>("logIn", AppText.ApiLogIn).OpenToEverybody();
        routes.MapPost(Session + "/log-out", LogOutAsync).Does<StopRequest>("logOut", AppText.ApiLogOut).OpenToEverybody();
        routes.MapPost(Session + "/look", ComeByLinkAsync).Does<LookLinkRequest>("comeByLink", AppText.ApiComeByLink)
            .OpenToEverybody();
        routes.MapGet(Look, (HttpContext context) => ForAsync(context, CallerRole.Operate, () =>
            GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, LookOf(context))))
            .Gives<LookView>("lookAtLink", AppText.ApiLookAtLink);
        routes.MapGet(Look + "/qr", (HttpContext context) => ForAsync(context, CallerRole.Operate, () => SendQrAsync(context)))
            .GivesFile("image/svg+xml", "drawLink", AppText.ApiDrawLink, new QueryPlace("link", AppText.ApiDrawLinkNumber));
        routes.MapGuarded<StopRequest>(Look + "/withdraw", "withdrawLink", AppText.ApiWithdrawLink, (context, _) =>
        {
            context.RequestServices.GetRequiredService<LookLink>().Withdraw();
            return Task.FromResult(Result.Ok("answers.linkWithdrawn"));
        });
        routes.MapGet(Accounts, (HttpContext context) => ForAsync(context, CallerRole.Administer, () =>
            GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, AccountsOf(context))))
            .Gives<AccountsView>("listAccounts", AppText.ApiListAccounts);
        routes.Account("", "makeAccount", AppText.ApiMakeAccount,
            (book, asked) => book.Make(asked.Name, RoleOf(asked), asked.Password ?? ""));
        routes.Account("/revise", "reviseAccount", AppText.ApiReviseAccount, (book, asked) =>
            book.Revise(asked.Name, asked.Role is null ? null : RoleOf(asked), asked.Password));
        routes.Account("/remove", "removeAccount", AppText.ApiRemoveAccount, (book, asked) => book.Remove(asked.Name));
        routes.MapGuarded<MotionAnswerRequest>(ApiPaths.Rig + "/asked", "answerMotion", AppText.ApiAnswerMotion, (context, asked) =>
        {
            if (!context.RequestServices.GetRequiredService<DashboardAccess>().IsAtTheRig(context))
                return Task.FromResult(Result.Refused("answers.onlyAtTheRig"));
            if (!context.RequestServices.GetRequiredService<MotionConsent>().Answer(asked.Id, asked.Allowed))
                return Task.FromResult(Result.Refused("answers.motionLapsed"));
            return Task.FromResult(asked.Allowed ? Result.Ok("answers.motionAllowed") : Result.Ok("answers.motionRefused"));
        });
    }

    private static void Account(this IEndpointRouteBuilder routes, string path, string name, string summary,
        Action<AccountBook, AccountRequest> change) => routes.MapGuarded<AccountRequest>(Accounts + path, name, summary, (context, asked) =>
            Task.FromResult(Result.Of(() =>
            {
                change(context.RequestServices.GetRequiredService<AccountBook>(), asked);
                return Result.Ok("answers.accountKept", ("name", asked.Name));
            })), CallerRole.Administer);

    private static CallerRole RoleOf(AccountRequest asked) => CallerRoles.Find(asked.Role)
        ?? throw new Core.RefusalException(AppText.AccountRole(CallerRoles.Words));

    private static async Task EnterAsync(HttpContext context, DashboardAccess access)
    {
        PageRequest? request = await GuardedRequests.ReadAsync<PageRequest>(context).ConfigureAwait(false);
        bool entered = request is not null && OwnNames.IsOwnOrigin(context.Request) && access.Enter(context, request.Key);
        await AnswerAsync(context, entered, "answers.mayMove", "answers.oldKey").ConfigureAwait(false);
    }

    private static async Task ComeByLinkAsync(HttpContext context, LookLink link)
    {
        LookLinkRequest? request = await GuardedRequests.ReadAsync<LookLinkRequest>(context).ConfigureAwait(false);
        bool entered = Entrances.Of(context) is Entrance.Look && request is not null && OwnNames.IsOwnOrigin(context.Request)
            && link.Fits(request.Look);
        if (entered) context.Response.Cookies.Append(WhoComesIn.LinkCookie(context), request!.Look, new CookieOptions
        {
            HttpOnly = true,
            SameSite = SameSiteMode.Strict,
            Path = "/",
            IsEssential = true,
            // A phone on a stand is switched off at night.
            MaxAge = TimeSpan.FromDays(365),
        });
        await AnswerAsync(context, entered, "answers.mayLook", "answers.needsLookLink").ConfigureAwait(false);
    }

    private static Task AnswerAsync(HttpContext context, bool done, string yes, string no) => GuardedRequests.AnswerAsync(context,
        done ? StatusCodes.Status200OK : StatusCodes.Status403Forbidden, done ? Result.Ok(yes) : Result.Refused(no));

    private static async Task LogInAsync(HttpContext context, LogIn logIn)
    {
        LogInRequest? request = await GuardedRequests.ReadAsync<LogInRequest>(context).ConfigureAwait(false);
        (int status, Result result) = request is null ? (StatusCodes.Status400BadRequest, Result.Refused("answers.notTheJson"))
            : Entrances.Of(context) is not Entrance.Operate || !context.Request.IsHttps
                ? (StatusCodes.Status403Forbidden, Result.Refused("answers.logInOverTls"))
            : !OwnNames.IsOwnOrigin(context.Request) ? (StatusCodes.Status403Forbidden, Result.Refused("answers.foreignOrigin"))
            : await logIn.TryAsync(context, request.Name, request.Password).ConfigureAwait(false);
        await GuardedRequests.AnswerAsync(context, status, result).ConfigureAwait(false);
    }

    private static Task LogOutAsync(HttpContext context, Sessions sessions)
    {
        if (!OwnNames.IsOwnOrigin(context.Request)) return AnswerAsync(context, false, "", "answers.foreignOrigin");
        sessions.End(context);
        context.Response.Cookies.Delete(Sessions.CookieName(context), new CookieOptions { Secure = true, Path = "/" });
        return AnswerAsync(context, true, "answers.loggedOut", "");
    }

    private static Task WhoAsync(HttpContext context, DashboardAccess access)
    {
        Caller who = PageCaller.Of(context);
        return GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK,
            new WhoView(who.Name, who.From, who.Role.Word(), access.IsAtTheRig(context)));
    }

    /// <summary>Answers who has a role; looking at these wants it too.</summary>
    private static Task ForAsync(HttpContext context, CallerRole needed, Func<Task> answer) =>
        context.RequestServices.GetRequiredService<DashboardAccess>().RoleOf(context) >= needed ? answer()
            : GuardedRequests.AnswerAsync(context, StatusCodes.Status403Forbidden,
                Result.Because(DashboardAccess.Without(context)));

    private static LookView LookOf(HttpContext context)
    {
        AccessOptions options = context.RequestServices.GetRequiredService<AccessOptions>();
        if (options.LookPort is not { } port) return new LookView(false, []);
        string token = context.RequestServices.GetRequiredService<LookLink>().Token;
        return new LookView(true, [.. NamesHere(options).Select(name => $"http://{name}:{Number(port)}/#look={token}")]);
    }

    private static AccountsView AccountsOf(HttpContext context)
    {
        IServiceProvider services = context.RequestServices;
        AccessOptions options = services.GetRequiredService<AccessOptions>();
        return new AccountsView(
            options.OperatePort is { } port ? [.. NamesHere(options).Select(name => $"https://{name}:{Number(port)}/")] : [],
            options.Fingerprint,
            [.. services.GetRequiredService<AccountBook>().All()
                .Select(account => new AccountView(account.Name, account.Role.Word(), account.MadeAt))],
            [.. services.GetRequiredService<Sessions>().Open()
                .Select(session => new SessionView(session.Name, session.From, session.BegunAt, session.UsedAt))]);
    }

    private static Task SendQrAsync(HttpContext context)
    {
        IReadOnlyList<string> links = LookOf(context).Links;
        _ = int.TryParse(context.Request.Query["link"], NumberStyles.None, CultureInfo.InvariantCulture, out int number);
        string? svg = number >= 0 && number < links.Count ? Qr(links[number]) : null;
        return Documents.SendSecretSvgAsync(context, svg, "answers.lookingIsClosed");
    }

    private static string Qr(string link)
    {
        using var generator = new QRCodeGenerator();
        using QRCodeData data = generator.CreateQrCode(link, QRCodeGenerator.ECCLevel.M);
        using var svg = new SvgQRCode(data);
        return svg.GetGraphic(4);
    }

    /// <summary>By which names others in the network reach this machine: those that were configured, then its addresses.</summary>
    private static IEnumerable<string> NamesHere(AccessOptions options) => options.Hosts.Concat(
        NetworkInterface.GetAllNetworkInterfaces()
            .Where(each => each.OperationalStatus == OperationalStatus.Up && each.NetworkInterfaceType != NetworkInterfaceType.Loopback)
            .SelectMany(each => each.GetIPProperties().UnicastAddresses.Select(unicast => unicast.Address))
            .Where(address => address.AddressFamily == AddressFamily.InterNetwork)
            .Select(address => address.ToString())).Distinct();

    private static string Number(int port) => port.ToString(CultureInfo.InvariantCulture);
}
