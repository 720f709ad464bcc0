using System.CommandLine;
using System.Globalization;
using RigDaq.App.Journal;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq journal</c>: what happened, the latest last, as one reads it in the morning.</summary>
internal static class JournalCommand
{
    private static readonly Option<double?> Hours = new("--hours") { Description = TerminalText.JournalHours, HelpName = "HOURS" };
    private static readonly Option<string?> Data = DataOption.Create();
    private static readonly Option<string?> Config = ConfigOption.Create();

    public static Command Create() => new Command("journal", TerminalText.JournalCommand) { Hours, Data, Config }.WithBody(Run);

    private static int Run(ParseResult parsed)
    {
        using OpenFolder folder = DataOption.Open(parsed.GetValue(Data), parsed.GetValue(Config));
        DateTimeOffset now = TimeProvider.System.GetUtcNow();
        double hours = Math.Min(PositiveOption.Read(parsed, Hours) ?? JournalReader.SpanUsual.TotalHours, JournalReader.SpanMax.TotalHours);
        JournalTold told = new JournalReader(folder.Archive, TimeProvider.System).Read(now.AddHours(-hours), null);
        if (parsed.GetValue(CommandTree.Json))
        {
            JsonAnswer.Write(told);
            return ExitStatus.Done;
        }

        foreach (JournalItem item in told.Items.Reverse()) CommandPlace.Output.WriteLine(Line(item));
        if (told.IsCut) CommandRunner.Say(TerminalText.JournalCut);
        CommandRunner.Say(told.Items.Count == 0 ? TerminalText.JournalNothing(hours) : TerminalText.JournalCounts(
            told.Endings.Sum(ending => ending.Count), told.Holds, told.Alarms, told.LinksLost));
        return ExitStatus.Done;
    }

    private static string Line(JournalItem item)
    {
        string[] parts = [item.Kind, item.Code, item.Words, item.By?.ToString() ?? "", item.Remedy];
        return string.Create(CultureInfo.InvariantCulture, $"{item.At.ToLocalTime():yyyy-MM-dd HH:mm:ss}  ")
            + string.Join("  ", parts.Where(part => part.Length > 0));
    }
}
