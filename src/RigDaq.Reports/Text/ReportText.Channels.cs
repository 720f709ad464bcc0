using RigDaq.Core.Quantities;
using RigDaq.Core.Signal;

namespace RigDaq.Reports.Text;

/// <summary>The words on the pictures of channels besides the force.</summary>
internal static partial class ReportText
{
    public const string BreakTimeMark = "break";
    public const string PeakPlace = "peak force";

    public static string ChannelKind(string kind) => kind switch
    {
        ChannelHead.Force => "second force",
        ChannelHead.Extension => "extension",
        ChannelHead.Temperature => "temperature",
        _ => "further channel",
    };

    public static string ChannelTitle(string name, string channel) => $"{name}: {channel}";

    public static string ChannelDescription(string name, string channel, string unit) => $"{channel} in {unit} against time while {name} was pulled.";

    public static string ChannelAxis(string channel, string unit) => unit.Length > 0 ? $"{channel} in {unit}" : channel;

    public static string StressAxis(Units units) => $"stress in {units.Stress.Symbol}";

    public static string ExtensionAxis(Units units) => $"extension of the gauge in {units.Length.Symbol}";

    public static string ExtensionTitle(string name, bool isStress) => isStress ? $"{name}: stress over extension" : $"{name}: force over extension";

    public static string ExtensionDescription(string name, bool isStress) =>
        $"{(isStress ? "Stress" : "Force")} of {name} against the extension of its gauge length from contact to the break, by the extensometer.";
}
