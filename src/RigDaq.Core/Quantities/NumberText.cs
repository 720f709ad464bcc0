using System.Globalization;

namespace RigDaq.Core.Quantities;

/// <summary>Numbers for people, with as many digits as their uncertainty allows.</summary>
public static class NumberText
{
    private const int DecimalsMax = 6;
    private const int DecimalsMin = -6;
    private const int SignificantDecimalsMax = 12;

    /// <summary>The decimals that an uncertainty carries: two significant digits of it where it begins with 1 or 2, else one (common
    /// practice; JCGM 100, 7.2.6 allows at most two).</summary>
    /// <param name="uncertainty">Half the width of an interval; a value that is not above 0 gives 2.</param>
    /// <returns>Below 0 where tens or hundreds are all that is known.</returns>
    public static int Decimals(double uncertainty)
    {
        if (!(uncertainty > 0) || !double.IsFinite(uncertainty)) return 2;
        int exponent = (int)Math.Floor(Math.Log10(uncertainty));
        double leading = uncertainty / Math.Pow(10, exponent);
        return Math.Clamp((leading < 2.95 ? 1 : 0) - exponent, DecimalsMin, DecimalsMax);
    }

    /// <summary>The decimals of two significant digits of an uncertainty, the most that JCGM 100, 7.2.6 allows.</summary>
    /// <param name="uncertainty">A value that is not above 0 gives 2.</param>
    public static int TwoDigits(double uncertainty) => uncertainty > 0 && double.IsFinite(uncertainty)
        ? Math.Clamp(1 - (int)Math.Floor(Math.Log10(uncertainty)), DecimalsMin, DecimalsMax) : 2;

    /// <summary>The expanded uncertainty of a standard deviation itself: 2·s/√(2(n − 1)) for normal data (JCGM 100, E.4.3); from ten values
    /// it is still a quarter of s either way.</summary>
    /// <param name="deviation">s.</param>
    /// <param name="values">n, 2 or more.</param>
    public static double OfDeviation(double deviation, int values) => 2 * deviation / Math.Sqrt(2.0 * Math.Max(1, values - 1));

    /// <summary>The number with so many significant digits, written out.</summary>
    /// <param name="value">The number.</param>
    /// <param name="digits">1 or more.</param>
    public static string Significant(double value, int digits) => Of(value, value == 0 || !double.IsFinite(value) ? 0
        : Math.Clamp(digits - 1 - (int)Math.Floor(Math.Log10(Math.Abs(value))), DecimalsMin, SignificantDecimalsMax));

    /// <summary>The number with a true minus sign; never "−0".</summary>
    /// <param name="value">The number.</param>
    /// <param name="decimals">How many; −1 rounds to tens, −2 to hundreds.</param>
    public static string Of(double value, int decimals)
    {
        if (decimals < 0)
        {
            double place = Math.Pow(10, -decimals);
            (value, decimals) = (Math.Round(value / place, MidpointRounding.AwayFromZero) * place, 0);
        }

        string text = Math.Abs(value).ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        bool zero = text.All(c => c is '0' or '.');
        return value < 0 && !zero ? "−" + text : text;
    }

    /// <summary>A value with its interval: "13 (8 to 18)", all to the decimals that the interval allows. An interval that leaves 0 out
    /// keeps so many decimals that it is seen to.</summary>
    public static (string Value, string Low, string High) Of(double value, double low, double high)
    {
        int decimals = Decimals((high - low) / 2);
        double nearest = low > 0 ? low : high < 0 ? -high : 0;
        while (nearest > 0 && decimals < DecimalsMax && nearest * Math.Pow(10, decimals) < 0.5) decimals++;
        return (Of(value, decimals), Of(low, decimals), Of(high, decimals));
    }
}
