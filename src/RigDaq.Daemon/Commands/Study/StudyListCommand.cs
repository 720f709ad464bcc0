using System.CommandLine;
using System.Globalization;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study list</c>.</summary>
internal static class StudyListCommand
{
    public static Command Create()
    {
        return new Command("list", TerminalText.StudyListCommand) { StudyStore.Data, StudyStore.Config }.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed);
            string? worked = store.Archive.Studies.Active()?.Id;
            IReadOnlyDictionary<string, StudyOrigin> origins = store.Archive.Studies.Origins;
            StudyLine[] lines =
                [.. store.Archive.Studies.All()
                .Select(s => new StudyLine(s.Id, s.Name, s.CreatedAt, s.Prints.Count, s.Specimens.Count,
                    store.Archive.Runs.OfStudy(s.Id).Count,
                s.PlanFrozenAt, origins.ContainsKey(s.Id), s.Id == worked))];
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { studies = lines });
            else if (lines.Length == 0) CommandRunner.Say(TerminalText.StudyNoneYet);
            else foreach (StudyLine line in lines) CommandPlace.Output.WriteLine(string
                .Create(CultureInfo.InvariantCulture,
                $"{line.Id}  {line.CreatedAt:yyyy-MM-dd}  {TerminalText.StudyListCounts(line.Specimens, line.Prints, line.Runs, line.Imported, line.WorkedOn)}  {line.Name}"));
            return ExitStatus.Done;
        });
    }

    private sealed record StudyLine(string Id, string Name, DateTimeOffset CreatedAt, int Prints, int Specimens, int Runs,
        DateTimeOffset? PlanFrozenAt, bool Imported, bool WorkedOn);
}
