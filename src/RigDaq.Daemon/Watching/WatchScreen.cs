using System.Globalization;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Text;
using RigDaq.Web.Views;
using Spectre.Console;
using Spectre.Console.Rendering;
using Words = Spectre.Console.Text;

namespace RigDaq.Daemon.Watching;

/// <summary>What a terminal shows of the rig, at its size. Nothing that comes from a device or a study is obeyed by the terminal: it is
/// written out as plain text.</summary>
internal static class WatchScreen
{
    private const int LinesBeside = 8 + WatchSight.ResultsMax;
    private const int TraceLinesMin = 4, TraceLinesMax = 24, AxisWide = 11;

    /// <summary>Makes it.</summary>
    /// <param name="sight">What is known.</param>
    /// <param name="units">Those that are read.</param>
    /// <param name="width">Of the terminal, in characters.</param>
    /// <param name="height">In lines.</param>
    /// <param name="answer">What a stop was answered; empty for none.</param>
    public static IRenderable Of(WatchSight sight, Units units, int width, int height, string answer)
    {
        StateView? state = sight.State;
        var rows = new List<IRenderable>
        {
            new Rule(Markup.Escape(Plain(sight.RigName.Length > 0 ? sight.RigName : TerminalText.WatchRig)))
            { Justification = Justify.Left },
            new Words(Plain(Stage(state)), new Style(decoration: Decoration.Bold)),
            new Words(Plain(Reason(state))),
            new Words(Force(state, units), new Style(decoration: Decoration.Bold)),
        };
        int lines = Math.Clamp(height - LinesBeside, TraceLinesMin, TraceLinesMax);
        rows.AddRange(Trace(sight, units, Math.Max(10, width - AxisWide - 1), lines).Select(line => new Words(line)));
        rows.Add(Results(sight, units));
        rows.Add(new Words(answer.Length > 0 ? answer : TerminalText.WatchKeys, new Style(decoration: Decoration.Dim)));
        return new Rows(rows);
    }

    /// <summary>The same state as one line, for what is no terminal.</summary>
    public static string Line(StateView? state, Units units) =>
        string.Join("  ", new[] { Plain(Stage(state)), Plain(Reason(state)), Force(state, units) }.Where(part => part.Length > 0));

    private static string Stage(StateView? state) => state is null ? TerminalText.WatchNobody
        : state.Link != "up" ? TerminalText.WatchLinkLost
        : state.Sequence is { } sequence ? TerminalText.WatchStage(sequence.Stage, sequence.SpecimenId, sequence.Pulled, sequence.Total)
        : TerminalText.WatchNoSequence;

    private static string Reason(StateView? state) => state is null ? "" : state.Link != "up" ? state.LinkMessage
        : state.Faults.Count > 0 ? string.Join(' ', state.Faults) : state.Sequence?.Reason ?? "";

    private static string Force(StateView? state, Units units)
    {
        if (state?.ForceNewtons is { } newtons)
        {
            string now = Figure(newtons / units.Force.Stored, units.Force);
            return state.Sequence?.RunningMaximumNewtons is { } peak
                ? TerminalText.WatchForcePeak(now, Figure(peak / units.Force.Stored, units.Force)) : now;
        }

        return state?.Counts is { } counts ? TerminalText.WatchCounts(counts) : "";
    }

    private static IEnumerable<string> Trace(WatchSight sight, Units units, int wide, int lines)
    {
        ((float Low, float High)[] columns, bool isCounts) = sight.Trace(2 * wide);
        double scale = isCounts ? 1 : units.Force.Stored;
        float[] known = [.. columns.Where(column => !float.IsNaN(column.Low)).SelectMany(column => new[] { column.Low, column.High })];
        double low = known.Length == 0 ? 0 : known.Min() / scale, high = known.Length == 0 ? 1 : known.Max() / scale;
        // Forces stand on zero; raw counts stand where they are.
        if (!isCounts) low = Math.Min(low, 0);
        if (high - low < 1) high = low + 1;
        (float, float)[] scaled = [.. columns.Select(column => ((float)(column.Low / scale), (float)(column.High / scale)))];
        string[] picture = DotPicture.Of(scaled, lines, low, high);
        for (int i = 0; i < lines; i++)
        {
            double? at = i == 0 ? high : i == lines - 1 ? low : null;
            string axis = at is { } value ? string.Create(CultureInfo.CurrentCulture, $"{value:0.#}") : "";
            yield return $"{axis,AxisWide - 1} {picture[i]}";
        }
    }

    private static Table Results(WatchSight sight, Units units)
    {
        Table table = new Table().Border(TableBorder.Simple).AddColumn(new TableColumn(new Words(TerminalText.WatchSpecimen)))
            .AddColumn(new TableColumn(new Words(TerminalText.WatchEnding)))
            .AddColumn(new TableColumn(new Words(TerminalText.WatchPeak)).RightAligned())
            .AddColumn(new TableColumn(new Words(TerminalText.WatchStrength)).RightAligned());
        foreach (RunView run in sight.Results)
        {
            string peak = run.PeakForceNewtons is { } newtons ? Figure(newtons / units.Force.Stored, units.Force) : "";
            string strength = run.StrengthMegapascals is { } strong ? Figure(strong / units.Stress.Stored, units.Stress) : "";
            if (strength.Length > 0 && run.ExpandedUncertaintyMegapascals is { } sure)
                strength += string.Create(CultureInfo.CurrentCulture, $" ± {sure / units.Stress.Stored:0.0}");
            table.AddRow(new Words(Plain(run.SpecimenId)), new Words(run.Ending), new Words(peak), new Words(strength));
        }

        return table;
    }

    private static string Figure(double value, Unit unit) => string.Create(CultureInfo.CurrentCulture, $"{value:0.0} {unit.Symbol}");

    private static string Plain(string text) => PlainText.Shown(text);
}
