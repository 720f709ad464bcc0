using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.PlainDevices;

/// <summary>The units that may stand behind a number, and how the parts of a line are called.</summary>
internal static class LineUnits
{
    /// <summary>A quantity in words.</summary>
    public static Sentence Word(this LineQuantity quantity) => quantity switch
    {
        LineQuantity.Grams => RigText.Grams,
        LineQuantity.Kilograms => RigText.Kilograms,
        LineQuantity.Newtons => RigText.Newtons,
        _ => RigText.Counts,
    };

    /// <summary>A unit of time in words.</summary>
    public static Sentence Word(this LineTimeUnit unit) => unit switch
    {
        LineTimeUnit.Seconds => RigText.Seconds,
        LineTimeUnit.Milliseconds => RigText.Milliseconds,
        _ => RigText.Microseconds,
    };

    /// <summary>What lies between columns; null for blanks and tabs.</summary>
    public static Sentence Word(char? separator) => separator switch
    {
        null => RigText.Blanks,
        ',' => RigText.Commas,
        ';' => RigText.Semicolons,
        '\t' => RigText.Tabs,
        { } other => Sentence.Verbatim($"“{other}”"),
    };

    /// <summary>The quantity that a unit speaks of, and what the number is multiplied by to be in it; null for a unit that is not
    /// known.</summary>
    public static (LineQuantity Quantity, double Factor)? Known(string unit) => unit switch
    {
        "g" or "gr" or "gram" or "grams" => (LineQuantity.Grams, 1),
        "mg" => (LineQuantity.Grams, 1e-3),
        "kg" or "KG" => (LineQuantity.Kilograms, 1),
        "N" or "newton" or "newtons" => (LineQuantity.Newtons, 1),
        "mN" => (LineQuantity.Newtons, 1e-3),
        "kN" => (LineQuantity.Newtons, 1e3),
        "counts" or "count" or "cts" => (LineQuantity.Counts, 1),
        _ => null,
    };

    /// <summary>The factor from the unit that a line names to the quantity that the format names; null where they cannot be the
    /// same.</summary>
    public static double? Factor(string unit, LineQuantity wanted)
    {
        if (unit.Length == 0) return 1;
        return (Known(unit), wanted) switch
        {
            ({ } known, _) when known.Quantity == wanted => known.Factor,
            ({ Quantity: LineQuantity.Kilograms } known, LineQuantity.Grams) => known.Factor * 1e3,
            ({ Quantity: LineQuantity.Grams } known, LineQuantity.Kilograms) => known.Factor * 1e-3,
            _ => null,
        };
    }

    /// <summary>Whether the unit of a printed time is the one of the format, or none.</summary>
    public static bool IsTime(string unit, LineTimeUnit wanted) => unit switch
    {
        "" => true,
        "s" or "sec" => wanted == LineTimeUnit.Seconds,
        "ms" => wanted == LineTimeUnit.Milliseconds,
        "us" or "\u00B5s" or "\u03BCs" => wanted == LineTimeUnit.Microseconds,
        _ => false,
    };
}
