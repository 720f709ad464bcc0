namespace RigDaq.Core.Quantities;

/// <summary>A unit that a person reads. Everything is kept and computed in N, mm, MPa and s; only what is shown passes through
/// here.</summary>
/// <param name="Symbol">As it stands after a figure.</param>
/// <param name="Stored">How many of the unit that is kept (N, MPa, mm, mm², N/s, mm/s, N/mm) make one of this.</param>
public sealed record Unit(string Symbol, double Stored)
{
    // What rounding of a logarithm may be off by.
    private const double LogarithmSlack = 1e-9;

    /// <summary>Whether figures are shown as they are kept.</summary>
    public bool IsStored => Stored == 1;

    /// <summary>From the kept unit to this one.</summary>
    public double Of(double stored) => stored / Stored;

    /// <summary>The same; null stays null.</summary>
    public double? Of(double? stored) => stored / Stored;

    /// <summary>What a person typed in this unit, in the kept one. In decimal numbers, so that 0.158 in is 4.0132 mm and nothing beside
    /// it.</summary>
    /// <exception cref="OverflowException">It is beyond any length or force.</exception>
    public double ToStored(decimal shown) => IsStored ? (double)shown : (double)(shown * (decimal)Stored);

    /// <summary>The decimals that keep what so many decimals of the kept unit hold, and less than one digit more. Below 0: tens,
    /// hundreds.</summary>
    public int Decimals(int storedDecimals) => storedDecimals + (int)Math.Ceiling(Math.Log10(Stored) - LogarithmSlack);

    /// <summary>As many decimals as the uncertainty allows (JCGM 100, 7.2.6).</summary>
    /// <param name="expanded">The expanded uncertainty in the kept unit; null or 0 where it is not known.</param>
    /// <param name="storedDecimals">The decimals in the kept unit where it is not known.</param>
    public int Decimals(double? expanded, int storedDecimals) =>
        expanded is > 0 and { } uncertainty && double.IsFinite(uncertainty) ? NumberText.Decimals(Of(uncertainty))
            : Decimals(storedDecimals);

    /// <summary>The figure with the unit, with as many digits as its uncertainty allows.</summary>
    /// <param name="stored">In the kept unit.</param>
    /// <param name="expanded">Its expanded uncertainty in the kept unit; null or 0 where it is not known.</param>
    /// <param name="storedDecimals">The decimals in the kept unit where it is not known.</param>
    public string Text(double stored, double? expanded, int storedDecimals)
        => $"{NumberText.Of(Of(stored), Decimals(expanded, storedDecimals))} {Symbol}";

    /// <summary>The figure alone.</summary>
    /// <param name="stored">In the kept unit.</param>
    /// <param name="storedDecimals">The decimals that it would have there.</param>
    public string Figure(double stored, int storedDecimals) => NumberText.Of(Of(stored), Decimals(storedDecimals));

    /// <summary>The figure with the unit.</summary>
    /// <param name="stored">In the kept unit.</param>
    /// <param name="storedDecimals">The decimals that it would have there.</param>
    public string Text(double stored, int storedDecimals) => $"{Figure(stored, storedDecimals)} {Symbol}";
}
