using System.CommandLine;
using System.Globalization;
using RigDaq.Core.Specimens;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study list</c>.</summary>
internal static class StudyListCommand
{
    public static Command Create()
    {
        Option<string?> data = StudyStore.DataOption();
        return new Command("list", "All studies, newest first.") { data }.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed.GetValue(data));
            string? worked = StudyAtWork.Of(store.Archive)?.Id;
            IReadOnlyDictionary<string, StudyOrigin> origins = store.Archive.Origins;
            StudyLine[] lines = [.. store.Studies.All().Select(s => new StudyLine(s.Id, s.Name, s.CreatedAt, s.Prints.Count, s.Specimens.Count, store.Archive.OfStudy(s.Id).Count, s.PlanFrozenAt, origins.ContainsKey(s.Id), s.Id == worked))];
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { studies = lines });
            else if (lines.Length == 0) CommandRunner.Say("There are no studies yet; make one with `rigdaq study make`.");
            else foreach (StudyLine line in lines) Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{line.Id}  {line.CreatedAt:yyyy-MM-dd}  {line.Specimens} specimens from {line.Prints} prints, {line.Runs} runs{(line.Imported ? ", imported" : "")}{(line.WorkedOn ? ", worked on" : "")}  {line.Name}"));
            return ExitStatus.Done;
        });
    }

    private sealed record StudyLine(string Id, string Name, DateTimeOffset CreatedAt, int Prints, int Specimens, int Runs, DateTimeOffset? PlanFrozenAt, bool Imported, bool WorkedOn);
}
