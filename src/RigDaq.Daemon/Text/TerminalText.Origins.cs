namespace RigDaq.Daemon.Text;

/// <content>Where the uncertainty of a strength comes from.</content>
internal static partial class TerminalText
{
    public const string OriginsCommand = "Where the uncertainty of a strength comes from on this bench, and three things that would shrink it.";
    public const string OriginsCalibration = "The calibration's id (see `rigdaq check`), or a table of readings (.csv) as `calibration fit` reads it.";
    public const string OriginsForce = "A peak force in newtons.";
    public const string OriginsWidth = "Width of a section in millimetres.";
    public const string OriginsThickness = "Thickness of a section in millimetres.";
    public const string OriginsStep = "The caliper's step in millimetres.";
    public const string OriginsError = "The caliper's error limit in millimetres; by default the configuration's, else 0.02 is assumed.";
    public const string OriginsBending = "Bending of the piece in the grips, in per cent of the mean stress; by default the configuration's, else 5 is assumed.";
    public const string OriginsAssumed = " (assumed)";
    public const string OriginsGains = "What would shrink it most:";
    public const string OriginsNoGain = "Nothing of what is usually bought or done would shrink it by a hundredth.";

    public const string OriginsPicture = "Draws the shares as a picture, too: a file that ends in .svg or .png.";

    public static string OriginsPictureNotKnown(string file) => $"{file}: a picture ends in .svg or .png.";

    public static string OriginsHalfSection(string width, string thickness) => $"{width} and {thickness} belong together: give both, or none for the force alone.";

    public static string OriginsUnknown(string id) => $"Calibration {id} says nothing of that force: it was kept without its uncertainty, or its curve is not carried so far.";

    public static string OriginsHead(double forceNewtons, string percent, bool ofStrength) =>
        FormattableString.Invariant($"At {forceNewtons:0.##} N the {(ofStrength ? "strength" : "force")} is uncertain by ± {percent} % (k = 2). Shares of the variance:");

    public static string OriginsGain(string advice, string percent) => $"  ± {percent} %  {advice}";
}
