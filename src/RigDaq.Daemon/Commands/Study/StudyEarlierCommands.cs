using System.CommandLine;
using RigDaq.App.Input;
using RigDaq.App.Runs;
using RigDaq.App.Studies;
using RigDaq.App.Text;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Groups;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>
/// Earlier results: <c>study earlier</c> lists every group that was measured here, <c>study against</c> sets a study against an earlier
/// one, <c>study control</c> marks the group that is pulled in every session.
/// </summary>
internal static class StudyEarlierCommands
{
    public static Command CreateEarlier()
    {
        var control = new Option<string?>("--control") { Description = TerminalText.EarlierControl, HelpName = "GROUP" };
        var material = new Option<string?>("--material") { Description = TerminalText.EarlierMaterial };
        return new Command("earlier", TerminalText.EarlierCommand)
            { control, material, StudyStore.Data, StudyStore.Config }.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed);
            bool json = parsed.GetValue(CommandTree.Json);
            Units units = json ? Units.Si : UnitsOption.Of(parsed, parsed.GetValue(StudyStore.Config));
            DateTimeOffset now = TimeProvider.System.GetUtcNow();
            EarlierView view = EarlierView.Of(store.Archive, now);
            if (parsed.GetValue(control) is { } named)
            {
                GroupKey wanted = GroupName.Find(named, view.Controls.Select(one => one.Control));
                ControlHistory history = view.Controls.First(c => c.Control == wanted);
                if (json) JsonAnswer.Write(new { control = history });
                else WriteControl(history, CommandPlace.Output, units);
                return ExitStatus.Done;
            }

            MeasuredGroup[] groups = [.. view.Groups.Where(g => parsed.GetValue(material) is not { } only || g.Group.Material == only)];
            if (json) JsonAnswer.Write(new { groups, controls = view.Controls });
            else if (groups.Length == 0) CommandRunner.Say(TerminalText.EarlierNone);
            else Write(groups, view.Controls, CommandPlace.Output, units);
            return ExitStatus.Done;
        });
    }

    public static Command CreateAgainst()
    {
        var id = new Argument<string>("STUDY") { Description = TerminalText.StudyId };
        var other = new Argument<string>("EARLIER") { Description = TerminalText.AgainstOther };
        var pool = new Option<string?>("--pool") { Description = TerminalText.AgainstPool, HelpName = "REASON" };
        var noScatter = new Option<bool>("--no-scatter") { Description = TerminalText.AgainstNoScatter };
        var remove = new Option<bool>("--remove") { Description = TerminalText.AgainstRemove };
        return new Command("against", TerminalText.AgainstCommand)
            { id, other, pool, noScatter, remove, StudyStore.Data, StudyStore.Config }.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed);
            Study after = Against(
                store, parsed.GetRequiredValue(id), parsed.GetRequiredValue(other), parsed.GetValue(pool), !parsed.GetValue(noScatter),
                    parsed.GetValue(remove), TimeProvider.System.GetUtcNow());
            if (parsed.GetValue(CommandTree.Json))
                JsonAnswer.Write(new
                {
                    study = after.Id,
                    against = after.Earlier
                    .Select(e => new
                    {
                        e.StudyId,
                        e.Name,
                        e.TakenAt,
                        strengths = e.Stretches.Sum(s => s.Megapascals.Count),
                        e.PooledBecause,
                        e.GivesScatter
                    })
                });
            else
                foreach (EarlierResult earlier in after.Earlier) CommandRunner.Say(TerminalText.AgainstNow(after.Id, earlier.Title,
                    earlier.PooledBecause));
            return ExitStatus.Done;
        });
    }

    public static Command CreateControl()
    {
        var id = new Argument<string>("STUDY") { Description = TerminalText.StudyId };
        var group = new Argument<string?>("GROUP") { Description = TerminalText.ControlGroup, Arity = ArgumentArity.ZeroOrOne };
        var remove = new Option<bool>("--remove") { Description = TerminalText.ControlRemove };
        return new Command("control", TerminalText.ControlCommand)
            { id, group, remove, StudyStore.Data, StudyStore.Config }.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed);
            if (parsed.GetValue(remove) == parsed.GetValue(group) is not null) throw new InputException(TerminalText.ControlGroupOrRemove);
            Study after = Control(store, parsed.GetRequiredValue(id), parsed.GetValue(group), TimeProvider.System.GetUtcNow());
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study = after.Id, after.Control });
            else CommandRunner.Say(AppText.ControlNow(after.Id, after.Control?.Describe(after.SettingUnit)));
            return ExitStatus.Done;
        });
    }

    /// <exception cref="InputException">It cannot be set against that, and why.</exception>
    internal static Study Against(StudyStore store, string studyId, string earlierId, string? pool, bool scatter, bool remove,
        DateTimeOffset now)
    {
        Study before = store.Require(studyId);
        Study after = remove
            ? StudyCorrections.NotAgainst(before, earlierId)
            : StudyCorrections.SetAgainst(before,
                EarlierResults.Of(store.Require(earlierId), store.Archive.Runs.OfStudy(earlierId), now) with
                {
                    PooledBecause = pool?.Trim(),
                    GivesScatter = scatter,
                    FromElsewhere = store.Archive.Studies.Origins.ContainsKey(earlierId),
                });
        StudyChangeCommand.Keep(store, before, after, AppText.AgainstBecause(earlierId, pool?.Trim(), remove), now: now);
        return after;
    }

    /// <exception cref="InputException">The study has no such group.</exception>
    internal static Study Control(StudyStore store, string studyId, string? group, DateTimeOffset now)
    {
        Study before = store.Require(studyId);
        Study after = StudyCorrections.MarkControl(before, group is null ? null : GroupName.Find(group, before.Groups()));
        if (after.Control == before.Control) throw new InputException(TerminalText.StudyChangeNothing);
        StudyChangeCommand.Keep(store, before, after, AppText.ControlNow(after.Id, after.Control?.Describe(after.SettingUnit)), now: now);
        return after;
    }

    /// <summary>A line a group, the newest study first.</summary>
    internal static void Write(IEnumerable<MeasuredGroup> groups, IReadOnlyList<ControlHistory> controls, TextWriter output, Units units)
    {
        foreach (var study in groups.GroupBy(g => g.StudyId))
        {
            MeasuredGroup first = study.First();
            output.WriteLine(TerminalText.EarlierStudyHead(first.StudyId, first.StudyName, study.Min(g => g.From), study.Max(g => g.To),
                first.FromElsewhere, first.Simulated));
            foreach (MeasuredGroup g in study)
            {
                string mean = units.Stress.Text(g.MeanMegapascals, g.VariationPercent is { } v ? g.MeanMegapascals * v / 100 : null, 1);
                output.WriteLine("  " + TerminalText.EarlierGroup(g.Group.Describe(g.SettingUnit), mean, g.VariationPercent, g.N, g.Prints,
                    g.Imported, g.IsControl));
                output.WriteLine("    " + TerminalText.EarlierCalibrations([.. g.Calibrations.Select(c => (c.Id, c.StandardPercent))]));
                foreach (PrintRecord record in g.Records) output
                    .WriteLine("    " + string.Join("; ", RunFacts.HowItCameToBe(record).Select(fact => $"{fact.Name} {fact.Value}")));
            }
        }

        foreach (ControlHistory control in controls) output
            .WriteLine(TerminalText.EarlierControlLine(control.Control.Describe(""), control.Sentence).In(units));
    }

    /// <summary>A line a session.</summary>
    internal static void WriteControl(ControlHistory history, TextWriter output, Units units)
    {
        output.WriteLine(history.Control.Describe(""));
        foreach (ControlPoint point in history.Points)
        {
            double? half = point is { LowMegapascals: { } low, HighMegapascals: { } high } ? (high - low) / 2 : null;
            output.WriteLine("  " + TerminalText.ControlSession(point.At, point.StudyId, point.N, point.Imported,
                units.Stress.Text(point.MeanMegapascals, half, 1),
                half is { } h ? units.Stress.Text(h, h, 1) : null, point.ChangePercent, point.Outside));
        }

        if (history is { LowerMegapascals: { } lower, UpperMegapascals: { } upper })
            output.WriteLine("  "
                + TerminalText.ControlLimits(units.Stress.Text(lower, upper - lower, 1), units.Stress.Text(upper, upper - lower, 1)));
        CommandRunner.Say(history.Sentence.In(units));
    }
}
