using RigDaq.Core.Quantities;

namespace RigDaq.App.Configuration;

/// <summary>The units that people read: chosen here, shown everywhere. What is kept, and what machines are told, is N, MPa and mm
/// always.</summary>
internal sealed class UnitChoice
{
    /// <summary>N, kgf (a force, not a mass) or lbf.</summary>
    public string Force { get; set; } = Core.Quantities.Units.Newton.Symbol;

    /// <summary>MPa, N/mm² (or N/mm2) or psi.</summary>
    public string Stress { get; set; } = Core.Quantities.Units.Megapascal.Symbol;

    /// <summary>mm or in.</summary>
    public string Length { get; set; } = Core.Quantities.Units.Millimetre.Symbol;

    /// <summary>The choice; the rules have seen to it that there is one.</summary>
    public Units Units => Units.Of(Force, Stress, Length) ?? Units.Si;

    /// <summary>Sets what a symbol is of; false where there is no such unit.</summary>
    public bool Set(string symbol)
    {
        if (Units.Of(symbol, Stress, Length) is not null) Force = symbol;
        else if (Units.Of(Force, symbol, Length) is not null) Stress = symbol;
        else if (Units.Of(Force, Stress, symbol) is not null) Length = symbol;
        else return false;
        return true;
    }
}
