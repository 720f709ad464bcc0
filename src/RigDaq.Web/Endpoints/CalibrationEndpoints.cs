using System.Globalization;
using RigDaq.App.Calibrations;
using RigDaq.App.Overview;
using RigDaq.App.Text;
using RigDaq.Web.Access;
using RigDaq.Web.Api;
using RigDaq.Web.Views;

namespace RigDaq.Web.Endpoints;

/// <summary>The calibration page's requests. Looking wants nothing; whatever changes something wants the token.</summary>
internal static class CalibrationEndpoints
{
    internal static void MapCalibration(this IEndpointRouteBuilder routes)
    {
        routes.MapGet(ApiPaths.Rig + "/calibration", (HttpContext context, CalibrationService calibration, IDashboardData data) =>
        {
            int degree = int.TryParse(context.Request.Query["degree"], NumberStyles.None, CultureInfo.InvariantCulture, out int wanted)
                ? Math.Clamp(wanted, 1, 3) : 1;
            return GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, CalibrationView.Of(calibration.Look(degree), data.Units));
        }).Gives<CalibrationView>("lookAtCalibration", AppText.ApiLookAtCalibration,
            new QueryPlace("degree", AppText.ApiDegree));
        routes.MapGet(ApiPaths.Rig + "/site", (HttpContext context, IDashboardData data) =>
            GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, data.Site))
            .Gives<SiteView>("lookAtSite", AppText.ApiLookAtSite);
        routes.MapGuarded<CalibrationRequest>(ApiPaths.Rig + "/calibration/begin", "beginCalibration", AppText.ApiBeginCalibration,
            (context, asked) => Desk(context).BeginAsync(asked));
        routes.MapGuarded<CalibrationStep>(ApiPaths.Rig + "/calibration/step", "stepCalibration", AppText.ApiStepCalibration,
            (context, step) => Task.FromResult(Desk(context).Do(step.Action)));
        routes.MapGuarded<CalibrationStep>(ApiPaths.Rig + "/calibration/accept", "acceptCalibration", AppText.ApiAcceptCalibration,
            (context, step) => Desk(context).AcceptAsync(step.Degree));
    }

    private static CalibrationService Desk(HttpContext context) => context.RequestServices.GetRequiredService<CalibrationService>();
}
