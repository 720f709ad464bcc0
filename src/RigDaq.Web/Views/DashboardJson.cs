using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using RigDaq.App.Calibrations;
using RigDaq.App.Jobs;
using RigDaq.App.Journal;
using RigDaq.App.Overview;
using RigDaq.App.Push;
using RigDaq.App.Runs;
using RigDaq.App.Studies;
using RigDaq.Web.Requests;

namespace RigDaq.Web.Views;

/// <summary>What goes over the page's socket and what its requests hold, as JSON in camel case.</summary>
[JsonSerializable(typeof(StateView))]
[JsonSerializable(typeof(QueueView))]
[JsonSerializable(typeof(HelloView))]
[JsonSerializable(typeof(StudyMessage))]
[JsonSerializable(typeof(AnswerView))]
[JsonSerializable(typeof(ResultView))]
[JsonSerializable(typeof(ProblemView))]
[JsonSerializable(typeof(SamplesView))]
[JsonSerializable(typeof(JobView))]
[JsonSerializable(typeof(JobsView))]
[JsonSerializable(typeof(ReportJobRequest))]
[JsonSerializable(typeof(PicturesJobRequest))]
[JsonSerializable(typeof(PackageJobRequest))]
[JsonSerializable(typeof(BackupJobRequest))]
[JsonSerializable(typeof(ApiView))]
[JsonSerializable(typeof(JournalTold))]
[JsonSerializable(typeof(PushView))]
[JsonSerializable(typeof(PushRequest))]
[JsonSerializable(typeof(WhoView))]
[JsonSerializable(typeof(LookView))]
[JsonSerializable(typeof(AccountsView))]
[JsonSerializable(typeof(LogInRequest))]
[JsonSerializable(typeof(LookLinkRequest))]
[JsonSerializable(typeof(AccountRequest))]
[JsonSerializable(typeof(MotionAnswerRequest))]
[JsonSerializable(typeof(StopRequest))]
[JsonSerializable(typeof(PageRequest))]
[JsonSerializable(typeof(JogMessage))]
[JsonSerializable(typeof(CalibrationView))]
[JsonSerializable(typeof(CalibrationRequest))]
[JsonSerializable(typeof(CalibrationStep))]
[JsonSerializable(typeof(SiteView))]
[JsonSerializable(typeof(RunsView))]
[JsonSerializable(typeof(RunPageView))]
[JsonSerializable(typeof(RunRequest))]
[JsonSerializable(typeof(SectionRequest))]
[JsonSerializable(typeof(SectionsView))]
[JsonSerializable(typeof(StudiesView))]
[JsonSerializable(typeof(StudyRequest))]
[JsonSerializable(typeof(StudyPageView))]
[JsonSerializable(typeof(StudyVersionsView))]
[JsonSerializable(typeof(StudyMakeRequest))]
[JsonSerializable(typeof(StretchRequest))]
[JsonSerializable(typeof(JoinRequest))]
[JsonSerializable(typeof(QuestionsRequest))]
[JsonSerializable(typeof(PrintRecordRequest))]
[JsonSerializable(typeof(EarlierView))]
[JsonSerializable(typeof(UnitsView))]
[JsonSerializable(typeof(CurvesView))]
[JsonSerializable(typeof(CurvesStartView))]
[JsonSerializable(typeof(OriginsView))]
[JsonSerializable(typeof(CurvesTableView))]
internal sealed partial class DashboardJson : JsonSerializerContext
{
    internal static DashboardJson Camel { get; } = new(new JsonSerializerOptions
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        // A null where a text belongs is refused in words, not found out later.
        RespectNullableAnnotations = true,
        // The page puts texts in as text, never as markup.
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    });

    internal static byte[] Write<T>(T value) => JsonSerializer.SerializeToUtf8Bytes(value, typeof(T), Camel);
}
