using System.Globalization;

namespace RigDaq.Core.Text;

/// <content>A run and its corrections: what its strength lacks, why a revision was made, what a correction cannot do.</content>
internal static partial class CoreText
{
    public const string NoSampleKept = "No sample was kept.";
    public const string ForcesOfDevice = "Forces are the device's own claim: no reference stands behind them, and the strength's uncertainty leaves theirs out.";
    public const string RecordedClaim = "Forces as files of other programs have them: no reference of ours stands behind them.";
    public const string RecordedTooGreat = "A force or a position is too great to be kept with the others: look at its unit.";
    public const string CalibrationWithoutUncertainty = "The calibration was kept without what its uncertainty is computed from: the strength's uncertainty leaves it out.";

    public const string VoidGripFailure = "grip failure";
    public const string VoidSlip = "slip";
    public const string VoidMisCut = "mis-cut";
    public const string VoidWrongSpecimen = "wrong specimen";
    public const string VoidRigFault = "rig fault";

    public const string RevisedByEye = "what the eye saw";

    public const string WhyVoided = "Say why the run is voided, in a few words.";
    public const string WhyVoidTakenBack = "Say why the void is taken back, in a few words.";
    public const string WhyMoved = "Say why the run is moved, in a few words.";
    public const string WhyRecomputed = "Say why it was recomputed, in a few words.";
    public const string WhyBroughtBack = "Say why it is brought back, in a few words.";

    public const string RunNotVoided = "The run is not voided, so there is nothing to take back.";
    public const string RunNeedsSpecimen = "Name the specimen that the run belongs to.";

    public static string RecordedElsewhere(string file, string curve) =>
        $"Read from a file ({file}{(curve.Length > 0 ? $", curve {curve}" : "")}), without a calibration of ours: forces are as the file has them, and the strength's uncertainty leaves theirs out.";

    public static string CalibrationUnknown(string calibration) => $"The calibration {calibration} is not known: the counts are kept, forces are not computed.";

    public static string StudyUnknown(string study) => $"The study {study} is not known: there is no section to divide by.";

    public static string LookedOtherwise(string ending, string wholeTrace) =>
        $"While it ran it looked {ending}; the whole trace reads {wholeTrace}: look at it.";

    public static string KeptAs(string ending, string byForce) =>
        $"Kept as {ending}, by what a person saw of the piece or an earlier reading; its force alone reads {byForce}.";

    public static string FractureLayer(string layer) => $"layer {layer}";

    public static string RevisedVoid(string why) => $"voided: {why}";

    public static string RevisedVoidTakenBack(string why) => $"void taken back: {why}";

    public static string RevisedSpecimen(string from, string to, string why) => $"moved from {from} to {to}: {why}";

    public static string RevisedFigures(string why) => $"recomputed: {why}";

    public static string RevisedBack(int revision, string why) => string.Create(CultureInfo.InvariantCulture, $"back to revision {revision}: {why}");

    public static string CharactersMax(int lengthMax) => $"At most {lengthMax} characters are kept.";
}
