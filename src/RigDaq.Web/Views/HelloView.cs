using RigDaq.App.Overview;
using RigDaq.Core.Quantities;

namespace RigDaq.Web.Views;

/// <summary>What a page is told once.</summary>
internal sealed record HelloView(string RigName, bool MayMove, IReadOnlyList<string> Cautions, IReadOnlyList<string> FurtherCautions,
    string HandMotionScope, string Units)
{
    public string Type { get; } = "hello";

    internal static HelloView From(IDashboardData data, bool mayMove) =>
        new(data.RigName, mayMove, UnitWords.In(Rig.Interlocks.Cautions.All, data.Units), DashboardCautions.BesideTheRig,
            Rig.Interlocks.Cautions.HandMotionScope, UnitNames.Of(data.Units));
}
