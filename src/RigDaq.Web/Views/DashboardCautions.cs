using RigDaq.App.Text;
using RigDaq.Rig.Interlocks;

namespace RigDaq.Web.Views;

/// <summary>Cautions for the work beside the rig; the rig's own are <see cref="Cautions.All"/>.</summary>
internal static class DashboardCautions
{
    internal static IReadOnlyList<string> BesideTheRig { get; } =
    [
        PageText.Of("facts.cautionCutting"),
        PageText.Of("facts.cautionDrying"),
        PageText.Of("facts.cautionFumes"),
        PageText.Of("facts.cautionWeights"),
    ];
}
