namespace RigDaq.App.Jobs;

/// <summary>A piece of long work that gives one file.</summary>
/// <param name="Kind">What is made: report, pictures, package or backup.</param>
/// <param name="Study">Of which study; empty where it is of all.</param>
/// <param name="FileName">What a person keeps the file as.</param>
/// <param name="MediaType">Of the file.</param>
/// <param name="Make">Makes it, in a folder that is the job's alone, and gives the file's path. It calls the pace between any two
/// stretches of its work.</param>
internal sealed record JobOrder(string Kind, string Study, string FileName, string MediaType, Func<JobPace, string, string> Make);
