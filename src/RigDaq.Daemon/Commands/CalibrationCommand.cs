using System.CommandLine;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq calibration …</c>: what is done with readings at known forces.</summary>
internal static class CalibrationCommand
{
    public static Command Create() => new("calibration", "Work with readings taken at known forces.") { CalibrationFitCommand.Create() };
}
