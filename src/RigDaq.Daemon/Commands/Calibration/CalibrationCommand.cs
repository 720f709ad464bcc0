using System.CommandLine;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq calibration …</c>: what is done with readings at known forces.</summary>
internal static class CalibrationCommand
{
    public static Command Create()
        => new("calibration", TerminalText.CalibrationCommand) { CalibrationFitCommand.Create(), CalibrationRecordCommand.Create() };
}
