using System.CommandLine;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq calibration …</c>: what is done with readings at known forces.</summary>
internal static class CalibrationCommand
{
    public static Command Create() => new("calibration", "Work with calibrations and the readings they are made from.") { CalibrationFitCommand.Create(), CalibrationRecordCommand.Create() };
}
