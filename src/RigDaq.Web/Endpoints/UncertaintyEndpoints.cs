using System.Globalization;
using RigDaq.App;
using RigDaq.App.Overview;
using RigDaq.App.Text;
using RigDaq.App.Uncertainties;
using RigDaq.Core.Pulls;
using RigDaq.Core.Specimens;
using RigDaq.Web.Access;
using RigDaq.Web.Api;
using RigDaq.Web.Views;

namespace RigDaq.Web.Endpoints;

/// <summary>The requests of the page that tells where an uncertainty comes from. They only look.</summary>
internal static class UncertaintyEndpoints
{
    internal static void MapUncertainty(this IEndpointRouteBuilder routes)
    {
        routes.MapGet(ApiPaths.Root + "/uncertainty", AnswerAsync)
            .Gives<OriginsView>("lookAtUncertainty", AppText.ApiLookAtUncertainty, Places);
        routes.MapGet(ApiPaths.Root + "/uncertainty/picture", PictureAsync)
            .GivesFile("image/svg+xml", "drawUncertainty", AppText.ApiDrawUncertainty, Places);
    }

    private static QueryPlace[] Places => [new("run", AppText.ApiRunPlace), new("force", AppText.ApiForce),
        new("width", AppText.ApiWidth), new("thickness", AppText.ApiThickness)];

    private static Task AnswerAsync(HttpContext context, UncertaintyService uncertainty, IDashboardData data)
    {
        if (Asked(context.Request.Query) is not { } asked) return RefuseAsync(context, StatusCodes.Status400BadRequest,
            "answers.uncertaintyOutOfRange");
        return uncertainty.Reckon(asked) is var (at, origins) ? GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK,
            OriginsView.From(at, origins, data.Units)) : RefuseAsync(context, StatusCodes.Status404NotFound, "answers.noUncertainty");
    }

    private static Task PictureAsync(HttpContext context, UncertaintyService uncertainty)
    {
        if (Asked(context.Request.Query) is not { } asked) return RefuseAsync(context, StatusCodes.Status400BadRequest,
            "answers.uncertaintyOutOfRange");
        bool dark = context.Request.Query["scheme"] == "dark", narrow = context.Request.Query["narrow"] == "1";
        return Documents.SendSvgAsync(context, $"uncertainty {dark} {narrow} {asked}", () => uncertainty.Svg(asked, dark, narrow),
            "answers.noUncertainty");
    }

    private static Task RefuseAsync(HttpContext context, int status, string key) =>
        GuardedRequests.AnswerAsync(context, status, Result.Refused(key));

    /// <summary>From a query string; null where a figure in it is none, or out of its range.</summary>
    internal static UncertaintyRequest? Asked(IQueryCollection query)
    {
        bool good = true;
        var asked = new UncertaintyRequest
        {
            Run = query["run"].ToString(),
            Asked = query["asked"] == "1",
            ForceNewtons = Number("force", UncertaintyRequest.ForceNewtonsMax, mayBeZero: false),
            WidthMillimetres = Number("width", UncertaintyRequest.LengthMillimetresMax, mayBeZero: false),
            ThicknessMillimetres = Number("thickness", UncertaintyRequest.LengthMillimetresMax, mayBeZero: false),
            StepMillimetres = Number("step", SectionMeasurement.CaliperErrorMillimetresMax, mayBeZero: true),
            CaliperErrorMillimetres = Number("error", SectionMeasurement.CaliperErrorMillimetresMax, mayBeZero: true),
            BendingPercent = Number("bending", BenchInputs.BendingPercentMax, mayBeZero: true),
        };
        return good ? asked : null;

        double? Number(string name, double most, bool mayBeZero)
        {
            string text = query[name].ToString();
            if (text.Length == 0) return null;
            bool holds = double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && value <= most
                && (mayBeZero ? value >= 0 : value > 0);
            good &= holds;
            return holds ? value : null;
        }
    }
}
