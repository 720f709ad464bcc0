using System.CommandLine;
using RigDaq.App.Input;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study work</c>: which study the daemon works on. The data folder is open, so no daemon has it and no sequence
/// runs.</summary>
internal static class StudyWorkCommand
{
    public static Command Create()
    {
        var id = new Argument<string?>("STUDY") { Description = TerminalText.StudyWorkId, Arity = ArgumentArity.ZeroOrOne };
        var newest = new Option<bool>("--newest") { Description = TerminalText.StudyWorkNewest };
        return new Command("work", TerminalText.StudyWorkCommand) { id, newest, StudyStore.Data, StudyStore.Config }.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed);
            Run(store, parsed.GetValue(id), parsed.GetValue(newest));
            Study? study = store.Archive.Studies.Active();
            bool chosen = store.Archive.Studies.Chosen is not null;
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study = study?.Id, chosen });
            else CommandPlace.Output.WriteLine(study is null ? TerminalText.StudyWorkNone
                : TerminalText.StudyWorkedOn(study.Id, study.Name, chosen));
            return ExitStatus.Done;
        });
    }

    /// <exception cref="InputException">There is no such study, or both were said.</exception>
    internal static void Run(StudyStore store, string? id, bool newest)
    {
        if (id is not null && newest) throw new InputException(TerminalText.StudyWorkNotBoth);
        if (newest) store.Archive.Studies.Choose(null);
        else if (id is not null) store.Archive.Studies.Choose(store.Require(id).Id);
    }
}
