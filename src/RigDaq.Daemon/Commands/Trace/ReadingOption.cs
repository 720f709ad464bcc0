using System.CommandLine;
using RigDaq.App.Curves;
using RigDaq.App.Input;
using RigDaq.Daemon.Text;
using RigDaq.Tables.Readings;

namespace RigDaq.Daemon.Commands;

/// <summary>The options that say how a table is to be read where the proposal is wrong.</summary>
internal static class ReadingOption
{
    public static readonly Option<string[]> ForceColumn = new("--force-column")
    { Description = TerminalText.ReadingForceColumn, HelpName = "COLUMN" };
    public static readonly Option<string?> TimeColumn = new("--time-column")
    { Description = TerminalText.ReadingTimeColumn, HelpName = "COLUMN" };
    public static readonly Option<string?> PositionColumn = new("--position-column")
    { Description = TerminalText.ReadingPositionColumn, HelpName = "COLUMN" };
    public static readonly Option<string?> CurveColumn = new("--curve-column")
    { Description = TerminalText.ReadingCurveColumn, HelpName = "COLUMN" };
    public static readonly Option<string?> ForceUnit = new("--force-unit")
    { Description = TerminalText.ReadingForceUnit, HelpName = "UNIT" };
    public static readonly Option<string?> TimeUnit = new("--time-unit") { Description = TerminalText.ReadingTimeUnit, HelpName = "UNIT" };
    public static readonly Option<string?> PositionUnit = new("--position-unit")
    { Description = TerminalText.ReadingPositionUnit, HelpName = "UNIT" };
    public static readonly Option<string?> DecimalMark = new("--decimal") { Description = TerminalText.ReadingDecimal, HelpName = "MARK" };
    public static readonly Option<string?> Separator = new("--separator")
    { Description = TerminalText.ReadingSeparator, HelpName = "MARK" };
    public static readonly Option<string?> Encoding = new("--encoding") { Description = TerminalText.ReadingEncoding, HelpName = "NAME" };
    public static readonly Option<int?> Skip = new("--skip") { Description = TerminalText.ReadingSkip, HelpName = "LINES" };
    public static readonly Option<string?> Sheet = new("--sheet") { Description = TerminalText.ReadingSheet, HelpName = "SHEET" };
    public static readonly Option<string?> Sign = new("--sign") { Description = TerminalText.ReadingSign, HelpName = "keep|turn" };
    public static readonly Option<double?> Rate = new("--rate") { Description = TerminalText.ReadingRate, HelpName = "HZ" };
    public static readonly Option<string?> Speed = new("--speed") { Description = TerminalText.ReadingSpeed, HelpName = "SPEED" };
    public static readonly Option<string?> Layout = new("--layout") { Description = TerminalText.ReadingLayout, HelpName = "NAME" };
    public static readonly Option<string?> SaveLayout = new("--save-layout")
    { Description = TerminalText.ReadingSaveLayout, HelpName = "NAME" };

    /// <summary>All of them.</summary>
    public static IEnumerable<Option> All =>
    [
        ForceColumn, TimeColumn, PositionColumn, CurveColumn, ForceUnit, TimeUnit, PositionUnit, DecimalMark, Separator, Encoding, Skip,
            Sheet,
        Sign, Rate, Speed, Layout, SaveLayout,
    ];

    /// <summary>What a command line says, over the layout that it names.</summary>
    /// <exception cref="InputException">The speed is none, or there is no such layout.</exception>
    public static ReadingOptions Read(ParseResult parsed)
    {
        var said = new ReadingOptions
        {
            ForceColumns = parsed.GetValue(ForceColumn) is { Length: > 0 } columns ? columns : null,
            TimeColumn = parsed.GetValue(TimeColumn),
            PositionColumn = parsed.GetValue(PositionColumn),
            CurveColumn = parsed.GetValue(CurveColumn),
            ForceUnit = parsed.GetValue(ForceUnit),
            TimeUnit = parsed.GetValue(TimeUnit),
            PositionUnit = parsed.GetValue(PositionUnit),
            DecimalMark = parsed.GetValue(DecimalMark),
            Separator = parsed.GetValue(Separator),
            Encoding = parsed.GetValue(Encoding),
            SkipLines = parsed.GetValue(Skip),
            Sheet = parsed.GetValue(Sheet),
            Sign = parsed.GetValue(Sign),
            RateHertz = parsed.GetValue(Rate),
            SpeedMillimetresPerSecond = parsed.GetValue(Speed) is { } speed ? StatedSpeed.Of(speed) : null,
        };
        return parsed.GetValue(Layout) is { } name ? said.Over(Store(parsed).Read(name)) : said;
    }

    /// <summary>The layouts of the data folder that a command line or its configuration names.</summary>
    public static LayoutStore Store(ParseResult parsed) =>
        new(DataOption.Named(parsed.GetValue(StudyStore.Data), parsed.GetValue(StudyStore.Config)));
}
