using RigDaq.App.Overview;
using RigDaq.Text;

namespace RigDaq.Web.Views;

/// <summary>What a page is told once.</summary>
internal sealed record HelloView(string RigName, bool MayMove, bool AtTheRig, IReadOnlyList<string> Cautions,
    IReadOnlyList<string> FurtherCautions, string HandMotionScope, string Units)
{
    public string Type { get; } = "hello";

    internal static HelloView From(IDashboardData data, bool mayMove, bool atTheRig) =>
        new(data.RigName, mayMove, atTheRig, Rig.Interlocks.Cautions.All.In(data.Units), DashboardCautions.BesideTheRig,
            Rig.Interlocks.Cautions.HandMotionScope, UnitNames.Of(data.Units));
}
