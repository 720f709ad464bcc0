using System.Globalization;
using RigDaq.Text;

namespace RigDaq.Core.Quantities;

/// <summary>
/// The units that people read, chosen once. Factors: 1 kgf = 9.80665 N, 1 lbf = 4.4482216152605 N, 1 in = 25.4 mm, all exact (NIST
/// Special Publication 811, 2008, appendix B.8; the standard acceleration of free fall from the 3rd CGPM, 1901). A kgf is a force; it is
/// not a kilogram, and what a mass pulls with depends on the place. Energy stays in J, masses in kg, temperatures in °C.
/// </summary>
public sealed record Units : IUnitWriter
{
    // So many digits stay in any case.
    private const int EnoughDigits = 4;

    private const double NewtonsPerKilogramForce = 9.80665;
    private const double NewtonsPerPoundForce = 4.4482216152605;
    private const double MillimetresPerInch = 25.4;
    private const double SecondsPerMinute = 60;

    /// <summary>Newtons.</summary>
    public static readonly Unit Newton = new("N", 1);

    /// <summary>Kilograms-force: a force, not a mass.</summary>
    public static readonly Unit KilogramForce = new("kgf", NewtonsPerKilogramForce);

    /// <summary>Pounds-force.</summary>
    public static readonly Unit PoundForce = new("lbf", NewtonsPerPoundForce);

    /// <summary>Megapascals.</summary>
    public static readonly Unit Megapascal = new("MPa", 1);

    /// <summary>The same size as MPa.</summary>
    public static readonly Unit NewtonPerSquareMillimetre = new("N/mm²", 1);

    /// <summary>Pounds-force per square inch.</summary>
    public static readonly Unit PoundPerSquareInch = new("psi", NewtonsPerPoundForce / (MillimetresPerInch * MillimetresPerInch));

    /// <summary>Millimetres.</summary>
    public static readonly Unit Millimetre = new("mm", 1);

    /// <summary>Inches.</summary>
    public static readonly Unit Inch = new("in", MillimetresPerInch);

    /// <summary>N, MPa, mm: as everything is kept, and what machines are told.</summary>
    public static readonly Units Si = new();

    /// <summary>What may be chosen for forces.</summary>
    public static IReadOnlyList<Unit> Forces { get; } = [Newton, KilogramForce, PoundForce];

    /// <summary>What may be chosen for strengths.</summary>
    public static IReadOnlyList<Unit> Stresses { get; } = [Megapascal, NewtonPerSquareMillimetre, PoundPerSquareInch];

    /// <summary>What may be chosen for lengths.</summary>
    public static IReadOnlyList<Unit> Lengths { get; } = [Millimetre, Inch];

    /// <summary>Of forces.</summary>
    public Unit Force { get; init; } = Newton;

    /// <summary>Of strengths.</summary>
    public Unit Stress { get; init; } = Megapascal;

    /// <summary>Of widths, thicknesses, grip separation, travel.</summary>
    public Unit Length { get; init; } = Millimetre;

    /// <summary>Of sections: the square of the length.</summary>
    public Unit Area => new(Length.Symbol + "²", Length.Stored * Length.Stored);

    /// <summary>Of the crosshead: mm/s, or in/min, as it is usual with inches.</summary>
    public Unit Speed => Length.IsStored ? new(Length.Symbol + "/s", 1) : new(Length.Symbol + "/min", Length.Stored / SecondsPerMinute);

    /// <summary>Of loading.</summary>
    public Unit ForceRate => new(Force.Symbol + "/s", Force.Stored);

    /// <summary>Of the slope of force against crosshead travel.</summary>
    public Unit Slope => new($"{Force.Symbol}/{Length.Symbol}", Force.Stored / Length.Stored);

    /// <summary>Of a machine's give, kept in mm/N.</summary>
    public Unit Compliance => new($"{Length.Symbol}/{Force.Symbol}", Length.Stored / Force.Stored);

    /// <summary>Of a machine's give: kept in µm/N, shown in µm or µin a unit of force.</summary>
    public Unit Give => new($"{SmallLength.Symbol}/{Force.Symbol}", SmallLength.Stored / Force.Stored);

    /// <summary>Of what is small: kept in µm, shown in µm or µin.</summary>
    public Unit SmallLength => Length.IsStored ? new("µm", 1) : new("µin", MillimetresPerInch / 1000);

    /// <summary>The choice by its symbols.</summary>
    /// <param name="force">N, kgf or lbf.</param>
    /// <param name="stress">MPa, N/mm² (or N/mm2) or psi.</param>
    /// <param name="length">mm or in.</param>
    /// <returns>Null where one of them is not known.</returns>
    public static Units? Of(string force, string stress, string length) =>
        Find(Forces, force) is { } f && Find(Stresses, stress) is { } s && Find(Lengths, length) is { } l
            ? new Units { Force = f, Stress = s, Length = l }
            : null;

    /// <summary>A unit by its symbol; null where it is not among them.</summary>
    /// <param name="among">Of one kind.</param>
    /// <param name="symbol">As it is written; mm² may be mm2.</param>
    public static Unit? Find(IReadOnlyList<Unit> among, string symbol) =>
        among.FirstOrDefault(unit => unit.Symbol == symbol || unit.Symbol.Replace("²", "2", StringComparison.Ordinal) == symbol);

    /// <inheritdoc />
    /// <remarks>With as many digits as it has in SI: the figure is written there first, and what it says is converted.</remarks>
    public string Figure(string quantity, double value, string format)
    {
        Unit unit = Of(quantity);
        string figure = value.ToString(format, CultureInfo.InvariantCulture);
        return unit.IsStored || !double.IsFinite(value) ? figure : Converted(figure, unit);
    }

    /// <inheritdoc />
    string IUnitWriter.Unit(string quantity) => Of(quantity).Symbol;

    private Unit Of(string quantity) => quantity switch
    {
        "force" => Force,
        "stress" => Stress,
        "length" => Length,
        "area" => Area,
        "speed" => Speed,
        "rate" => ForceRate,
        "slope" => Slope,
        "compliance" => Compliance,
        "give" => Give,
        "smallLength" => SmallLength,
        _ => throw new ArgumentOutOfRangeException(nameof(quantity), quantity, "is none of the quantities."),
    };

    private static string Converted(string figure, Unit unit)
    {
        double value = unit.Of(double.Parse(figure, CultureInfo.InvariantCulture));
        string sign = figure[0] == '+' ? "+" : "";
        int exponent = figure.IndexOfAny(['e', 'E']);
        if (exponent >= 0)
        {
            int digits = figure[..exponent].Count(char.IsAsciiDigit);
            return sign + value.ToString("G" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture)
                .Replace('-', '−');
        }

        int point = figure.IndexOf('.', StringComparison.Ordinal);
        int decimals = unit.Decimals(point < 0 ? 0 : figure.Length - point - 1);
        // The figure was rounded once: a digit finer than it had would differ from the same quantity converted whole, elsewhere on the
        // page.
        if (value != 0 && Math.Floor(Math.Log10(Math.Abs(value))) + decimals >= EnoughDigits) decimals--;
        return sign + NumberText.Of(value, decimals);
    }
}
