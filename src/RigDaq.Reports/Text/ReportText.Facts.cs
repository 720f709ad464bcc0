using RigDaq.Core.Calibration.References;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;

namespace RigDaq.Reports.Text;

/// <content>Names of facts and what goes with them.</content>
internal static partial class ReportText
{
    // Names of facts and what goes with them.

    public static string Degrees(double celsius, int decimals) => DegreesText(Number(celsius, decimals));

    public static string Chamber(double celsius) => ChamberText(Number(celsius));

    public static string PrinterSettingWords(PrinterSetting setting) => $"{setting.Name} {setting.Value}";

    public static string WeightWords(Weight weight) => WeightWordsText(weight.Name, Number(weight.MassKilograms));

    /// <summary>Several values of one quantity, each once: "0.25, 0.5 mm/s".</summary>
    public static string Values(IEnumerable<double> stored, Unit unit) => string.Join(", ",
        stored.Distinct().Order().Select(value => unit.IsStored ? Number(value) : Number(unit.Of(value)))) + " " + unit.Symbol;

    /// <summary>Null in the units that everything is kept in.</summary>
    public static string? ShownInUnits(Units units)
    {
        string[] converted = [.. new[] { units.Force, units.Stress, units.Length }.Where(unit => !unit.IsStored)
            .Select(unit => unit.Symbol switch
        {
            "kgf" => KilogramForceIs,
            "lbf" => PoundForceIs,
            "psi" => PoundPerSquareInchIs,
            "in" => InchIs,
            _ => throw new ArgumentOutOfRangeException(nameof(units), unit.Symbol, null),
        })];
        return converted.Length == 0 ? null : ShownInUnitsText(converted);
    }
}
