namespace RigDaq.App.Text;

/// <content>Recorded traces: the command, what was read from them, and what is wrong with a file.</content>
internal static partial class AppText
{
    public const string TraceCountsWithoutCalibration = "it holds counts: name the calibration with --calibration FILE (what `rigdaq calibration fit --json` printed).";
}
