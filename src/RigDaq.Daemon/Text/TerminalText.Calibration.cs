namespace RigDaq.Daemon.Text;

/// <content>Calibrations that are kept: the commands about them, and a calibration's record.</content>
internal static partial class TerminalText
{
    public const string CalibrationCommand = "Work with calibrations and the readings they are made from.";
    public const string CalibrationRecordCommand = "Write a calibration's record.";
    public const string CalibrationRecordId = "The calibration's id, as it was said when it was put in force and as reports name it.";

    public static string CalibrationNotThere(string id) => $"ID: there is no calibration {id} in this data folder.";
}
