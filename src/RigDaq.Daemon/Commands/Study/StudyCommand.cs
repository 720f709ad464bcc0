using System.CommandLine;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study</c>: make, show, change and list studies from the terminal.</summary>
internal static class StudyCommand
{
    public static Command Create() => new("study", TerminalText.StudyCommand)
    {
        StudyListCommand.Create(),
        StudyShowCommand.Create(),
        StudyMakeCommand.Create(),
        StudyWorkCommand.Create(),
        StudyPlanCommand.Create(),
        StudyMeasureCommand.Create(),
        StudyLabelsCommand.Create(),
        StudyRecordCommand.Create(),
        StudyPrintsCommands.CreateNotPrinted(),
        StudyPrintsCommands.CreateJoin(),
        StudyChangeCommand.Create(),
        StudyLookCommand.Create(),
        StudyVoidCommand.Create(),
        StudyRecomputeCommand.Create(),
        StudyMoveCommand.Create(),
        StudyHistoryCommand.Create(),
        StudyHistoryCommand.CreateBack(),
        StudyImportCommand.Create(),
        StudyEarlierCommands.CreateEarlier(),
        StudyEarlierCommands.CreateAgainst(),
        StudyEarlierCommands.CreateControl(),
        StudyCurvesCommand.Create(),
    };
}
