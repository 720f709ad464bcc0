using RigDaq.Core.Quantities;

namespace RigDaq.App.Overview;

/// <summary>How chosen units are named together.</summary>
internal static class UnitNames
{
    /// <summary>Their symbols: force, stress, length.</summary>
    public static string Of(Units units) => $"{units.Force.Symbol}, {units.Stress.Symbol}, {units.Length.Symbol}";
}
