using System.Globalization;
using RigDaq.App.Input;
using RigDaq.App.Text;

namespace RigDaq.App.Curves;

/// <summary>The speed of a pull as people say it, for tables without a column of time.</summary>
internal static class StatedSpeed
{
    /// <summary>A speed in mm/s, as it is said: a number alone is mm/s; mm/min and in/min may stand behind it.</summary>
    /// <exception cref="InputException">It is none.</exception>
    public static double Of(string said)
    {
        string text = said.Trim();
        double size = 1;
        foreach ((string unit, double inMillimetresPerSecond) in new[]
            { ("mm/min", 1.0 / 60), ("mm/s", 1.0), ("in/min", 25.4 / 60), ("in/s", 25.4) })
        {
            if (!text.EndsWith(unit, StringComparison.OrdinalIgnoreCase)) continue;
            (text, size) = (text[..^unit.Length].Trim(), inMillimetresPerSecond);
            break;
        }

        return double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value)
            && value * size is > 0 and < double.PositiveInfinity ? value * size : throw new InputException(AppText.ReadingSpeedNone(said));
    }
}
