using RigDaq.Core.Calibration.References;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;

namespace RigDaq.Reports.Text;

/// <content>Names of facts and what goes with them.</content>
internal static partial class ReportText
{
    public const string Groups = "groups";
    public const string Plan = "plan";
    public const string OrderOfBreaking = "order of breaking";
    public const string SectionFact = "section";
    public const string SectionOfRuns = "section of the runs";
    public const string CrossheadSpeed = "crosshead speed";
    public const string Preload = "preload";
    public const string BreakIs = "a break is";
    public const string Samples = "samples";
    public const string BetweenSamples = "between two samples";
    public const string UncertaintyOfOne = "uncertainty of one strength";
    public const string Imported = "imported";
    public const string CalibrationFact = "calibration";
    public const string Accepted = "accepted";
    public const string ValidUntil = "valid until";
    public const string ClassFact = "class";
    public const string ExpandedUncertainty = "expanded uncertainty";
    public const string GreatestReference = "greatest reference force";
    public const string GreatestForce = "greatest force of the runs";
    public const string CurveFact = "curve";
    public const string LoadCell = "load cell";
    public const string By = "by";
    public const string At = "at";
    public const string WeightsFact = "weights";
    public const string Room = "room";
    public const string Remarks = "remarks";
    public const string UnitsFact = "units";

    public static string Degrees(double celsius, int decimals) => $"{Number(celsius, decimals)} °C";

    public static string Chamber(double celsius) => $"chamber {Number(celsius)} °C";

    public static string PrinterSettingWords(PrinterSetting setting) => $"{setting.Name} {setting.Value}";

    public static string WeightWords(Weight weight) => $"{weight.Name} ({Number(weight.MassKilograms)} kg)";

    public static string Program(string version) => $"RigDaq {version}";

    /// <summary>Several values of one quantity, each once: "0.25, 0.5 mm/s".</summary>
    public static string Values(IEnumerable<double> stored, Unit unit) =>
        string.Join(", ", stored.Distinct().Order().Select(value => unit.IsStored ? Number(value) : Number(unit.Of(value)))) + " " + unit.Symbol;

    /// <summary>Null in the units that everything is kept in.</summary>
    public static string? UnitWords(Units units)
    {
        string[] converted = [.. new[] { units.Force, units.Stress, units.Length }.Where(unit => !unit.IsStored).Select(unit => unit.Symbol switch
        {
            "kgf" => "1 kgf = 9.80665 N (a force, not a mass)",
            "lbf" => "1 lbf = 4.4482216 N",
            "psi" => "1 psi = 0.0068947573 MPa",
            _ => "1 in = 25.4 mm",
        })];
        return converted.Length == 0 ? null : $"measured and kept in N, mm and MPa, shown by {string.Join(", ", converted)}";
    }
}
