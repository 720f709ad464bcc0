using System.Globalization;
using RigDaq.App.Overview;
using RigDaq.Core.Specimens;
using RigDaq.Rig.Sequencing;

namespace RigDaq.Web.Views;

/// <summary>The study with its groups' running figures, and what would be pulled next.</summary>
internal sealed record StudyMessage(string? Id, string Name, string SettingName, string SettingUnit, int SpecimensLeft,
    IReadOnlyList<GroupItem> Groups, PlanView? Plan, IReadOnlyList<DashboardFact> Facts)
{
    public string Type { get; } = "study";

    internal static StudyMessage From(IDashboardData data)
    {
        PlanView? plan = data.NextPlan() is { } p ? PlanView.From(p) : null;
        return data.Study() is not { } s
            ? new(null, "", "", "", 0, [], plan, data.Facts())
            : new(s.Id, s.Name, s.SettingName, s.SettingUnit, s.SpecimensLeft,
                [.. s.Groups.Select(g => GroupItem.From(g, s.SettingUnit))], plan, data.Facts());
    }
}

/// <summary>A group for the page; one that has no specimen because it could not be printed says so.</summary>
internal sealed record GroupItem(string Label, string Material, int Planned, int Count, int Voided, double? MeanMegapascals,
    double? LowMegapascals, double? HighMegapascals, bool Extrapolated, bool NotPrinted)
{
    internal static GroupItem From(GroupView g, string unit) => new(GroupWords.Of(g.Group, unit), g.Group.Material, g.Planned, g.Count,
        g.Voided, StateView.Finite(g.MeanMegapascals), StateView.Finite(g.LowMegapascals), StateView.Finite(g.HighMegapascals),
            g.Extrapolated, g is { Planned: 0, PrintsFailed: > 0 });
}

/// <summary>What a person accepts by starting.</summary>
internal sealed record PlanView(int Specimens, double SpeedMillimetresPerSecond, double ForceLimitNewtons, double TravelLimitMillimetres,
    double AnnouncedDelaySeconds)
{
    internal static PlanView From(SequencePlan plan) => new(plan.SpecimenIds.Count, plan.Settings.SpeedMillimetresPerSecond,
        plan.Settings.ForceLimitNewtons, plan.Settings.TravelLimitMillimetres, plan.AnnouncedDelay.TotalSeconds);
}

/// <summary>A group in words: "Alder, fan off, 215 °C".</summary>
internal static class GroupWords
{
    internal static string Of(GroupKey group, string settingUnit)
    {
        string setting = group.Setting is { } value ? string.Create(CultureInfo.InvariantCulture, $"{value}\u202f{settingUnit}")
            .TrimEnd('\u202f') : "";
        return string.Join(", ", new[] { group.Material, group.Condition, setting }.Where(part => part.Length > 0));
    }
}
