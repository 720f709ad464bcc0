using RigDaq.App;
using RigDaq.App.Jobs;
using RigDaq.Core.Callers;
using RigDaq.Core.Quantities;
using RigDaq.Web.Api;

namespace RigDaq.Web.Views;

/// <summary>A piece of long work.</summary>
/// <param name="Id">Its name in its address.</param>
/// <param name="Kind">What is made: report, pictures, package or backup.</param>
/// <param name="Study">Of which study; empty where it is of all.</param>
/// <param name="State">waiting, running, done, failed or calledOff.</param>
/// <param name="Done">How many stretches of the work are done.</param>
/// <param name="Of">Of how many; 0 where that is not known.</param>
/// <param name="AskedAt">When it was asked for.</param>
/// <param name="EndedAt">When it was over; null before.</param>
/// <param name="FileName">What a person keeps its file as.</param>
/// <param name="File">Where the file is; null before it is done.</param>
/// <param name="Problem">Why it failed; null where it did not.</param>
/// <param name="By">Who asked for it: the name that they go by, and from where.</param>
internal sealed record JobView(string Id, string Kind, string Study, string State, int Done, int Of, DateTimeOffset AskedAt,
    DateTimeOffset? EndedAt, string FileName, string? File, string? Problem, By? By)
{
    internal static JobView From(Job job, Units units) => new(job.Id, job.Order.Kind, job.Order.Study, Word(job.State), job.Progress.Done,
        job.Progress.Of, job.AskedAt, job.EndedAt, job.Order.FileName,
        job.State == JobState.Done ? $"{ApiPaths.Jobs}/{job.Id}/file" : null,
        job.Problem.Count > 0 ? Result.Several(job.Problem).In(units) : null, job.By);

    private static string Word(JobState state) => state switch
    {
        JobState.Waiting => "waiting",
        JobState.Running => "running",
        JobState.Done => "done",
        JobState.Failed => "failed",
        _ => "calledOff",
    };
}
