using System.Globalization;
using RigDaq.App;
using RigDaq.App.Curves;
using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Core;
using RigDaq.Tables.Readings;
using RigDaq.Text;
using RigDaq.Web.Access;
using RigDaq.Web.Api;
using RigDaq.Web.Views;

namespace RigDaq.Web.Endpoints;

/// <summary>The requests of the page of curves. A file is sent as the body, what a person said about it in the address; reading one takes
/// the machine some work, so that it wants the token as keeping does, and happens one at a time.</summary>
internal static class CurvesEndpoints
{
    /// <summary>The longest file that a page may send, in bytes; longer ones are for the terminal.</summary>
    internal const int BytesMax = 32 << 20;

    private const string Bytes = "application/octet-stream";

    private static readonly SemaphoreSlim OneAtATime = new(1);

    internal static void MapCurves(this IEndpointRouteBuilder routes)
    {
        routes.MapGet(ApiPaths.Root + "/curves", (HttpContext context, CurvePages pages, DashboardAccess access) =>
            GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, pages.Start(access.MayOperate(context))))
            .Gives<CurvesStartView>("beginCurves", AppText.ApiBeginCurves);
        routes.MapPost(ApiPaths.Root + "/curves/read", (HttpContext context, CurvePages pages, CurveService desk) =>
            WithFileAsync(context, async bytes =>
            {
                bool dark = Query(context, "scheme") == "dark";
                CurvesView view = await Task.Run(() => pages.Read(Query(context, "name"), bytes, Options(context, desk), dark))
                    .ConfigureAwait(false);
                await GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, view).ConfigureAwait(false);
            })).TakesFile<CurvesView>(Bytes, "readCurves", AppText.ApiReadCurves,
            new QueryPlace("name", AppText.ApiFileName));
        routes.MapPost(ApiPaths.Root + "/curves/table", (HttpContext context) =>
            WithFileAsync(context, async bytes =>
            {
                CurvesTableView view = await Task.Run(() => CurvePages.Table(Query(context, "name"), bytes)).ConfigureAwait(false);
                await GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, view).ConfigureAwait(false);
            })).TakesFile<CurvesTableView>(Bytes, "readCurvesTable", AppText.ApiReadCurvesTable,
            new QueryPlace("name", AppText.ApiFileName));
        routes.MapPost(ApiPaths.Root + "/curves/keep", (HttpContext context, CurveService desk) =>
            WithFileAsync(context, async bytes =>
            {
                Result result = await Task.Run(() => desk.Keep(Query(context, "name"), bytes, Options(context, desk), Ask(context)))
                    .ConfigureAwait(false);
                await GuardedRequests.AnswerAsync(context, result.Done ? StatusCodes.Status200OK
                    : StatusCodes.Status409Conflict, result).ConfigureAwait(false);
            })).TakesFile<ResultView>(Bytes, "keepCurves", AppText.ApiKeepCurves,
            new QueryPlace("name", AppText.ApiFileName), new QueryPlace("study", AppText.ApiStudyPlace));
    }

    private static async Task WithFileAsync(HttpContext context, Func<byte[], Task> run)
    {
        if (context.RequestServices.GetRequiredService<DashboardAccess>().ReasonAgainst(context) is { } reason)
        {
            await GuardedRequests.AnswerAsync(context, StatusCodes.Status403Forbidden, Result.Because(reason)).ConfigureAwait(false);
            return;
        }

        if (await ReadAsync(context).ConfigureAwait(false) is not { } bytes)
        {
            await GuardedRequests.AnswerAsync(context, StatusCodes.Status413PayloadTooLarge,
                Result.Refused("answers.curvesTooLong", ("n", BytesMax >> 20))).ConfigureAwait(false);
            return;
        }

        await OneAtATime.WaitAsync(context.RequestAborted).ConfigureAwait(false);
        try
        {
            await run(bytes).ConfigureAwait(false);
        }
        catch (Exception fault) when (fault is RefusalException or IOException or UnauthorizedAccessException)
        {
            await GuardedRequests.AnswerAsync(context, StatusCodes.Status409Conflict,
                fault is RefusalException refusal ? Result.Because(refusal.Reasons) : Result.Because(Sentence.Verbatim(fault.Message)))
                    .ConfigureAwait(false);
        }
        finally
        {
            OneAtATime.Release();
        }
    }

    // The host's own limit on bodies is lifted for this request, which has a limit of its own.
    private static async Task<byte[]?> ReadAsync(HttpContext context)
    {
        if (context.Features.Get<Microsoft.AspNetCore.Http.Features.IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } size)
            size.MaxRequestBodySize = BytesMax;
        if (context.Request.ContentLength > BytesMax) return null;
        using var bytes = new MemoryStream();
        byte[] part = new byte[64 * 1024];
        int read;
        while ((read = await context.Request.Body.ReadAsync(part, context.RequestAborted).ConfigureAwait(false)) > 0)
        {
            if (bytes.Length + read > BytesMax) return null;
            bytes.Write(part, 0, read);
        }

        return bytes.ToArray();
    }

    private static ReadingOptions Options(HttpContext context, CurveService desk)
    {
        string? Said(string name) => Query(context, name) is { Length: > 0 } text ? text : null;
        double? Number(string name) => Said(name) is not { } text ? null
            : double.TryParse(text.Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out double value) ? value
            : throw new InputException(PageText.Of("answers.curvesNumber", ("typed", text)));
        string[] forces = [.. context.Request.Query["forceColumn"].OfType<string>().Where(one => one.Length > 0)];
        var said = new ReadingOptions
        {
            ForceColumns = forces.Length > 0 ? forces : null,
            TimeColumn = Said("timeColumn"),
            PositionColumn = Said("positionColumn"),
            CurveColumn = Said("curveColumn"),
            ForceUnit = Said("forceUnit"),
            TimeUnit = Said("timeUnit"),
            PositionUnit = Said("positionUnit"),
            DecimalMark = Said("decimalMark"),
            Separator = Said("separator"),
            Encoding = Said("encoding"),
            SkipLines = (int?)Math.Clamp(Number("skip") ?? 0, 0, int.MaxValue) is { } skip and > 0 ? skip : null,
            Sheet = Said("sheet"),
            Sign = Said("sign"),
            RateHertz = Number("rate"),
            SpeedMillimetresPerSecond = Said("speed") is { } speed ? StatedSpeed.Of(speed) : null,
        };
        return Said("layout") is { } layout ? said.Over(desk.Layouts.Read(layout)) : said;
    }

    private static CurvesRequest Ask(HttpContext context)
    {
        string Said(string name) => Query(context, name).Trim();
        return new CurvesRequest(Said("study"), Said("material"), Said("condition"), Said("setting"), Said("print"), Said("width"),
            Said("thickness"), Said("saveLayout"), Said("curve"), Said("specimen"), Said("area"), Said("areaUncertainty"), Said("ending"));
    }

    private static string Query(HttpContext context, string name) => context.Request.Query[name].ToString();
}
