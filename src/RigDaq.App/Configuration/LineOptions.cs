using System.Globalization;
using System.Text.Json.Nodes;
using RigDaq.Rig.PlainDevices;

namespace RigDaq.App.Configuration;

/// <summary>How the lines of a device that only prints numbers are read, as a person writes it.</summary>
internal sealed class LineOptions
{
    /// <summary>"comma", "semicolon", "tab", "blank", or one character.</summary>
    public string Separator { get; set; } = "comma";

    public bool DecimalComma { get; set; }

    /// <summary>How many columns a whole line has; 0 for any number.</summary>
    public int Columns { get; set; }

    /// <summary>From 1.</summary>
    public int ForceColumn { get; set; } = 1;

    /// <summary>"counts", "grams", "kilograms" or "newtons".</summary>
    public string Quantity { get; set; } = "counts";

    /// <summary>How finely a unit is kept; null for the quantity's own.</summary>
    public double? CountsPerUnit { get; set; }

    /// <summary>From 1; null where the device prints no time.</summary>
    public int? TimeColumn { get; set; }

    /// <summary>"seconds", "milliseconds" or "microseconds".</summary>
    public string TimeUnit { get; set; } = "milliseconds";

    public string CommentPrefix { get; set; } = "#";

    /// <summary>The format; null where a word is not known.</summary>
    public LineFormat? ToFormat()
    {
        char? separator = Separator switch { "comma" => ',', "semicolon" => ';', "tab" => '\t', { Length: 1 } one => one[0], _ => null };
        bool known = separator is not null || Separator == "blank";
        if (!known || !TryWord(Quantity, out LineQuantity quantity) || !TryWord(TimeUnit, out LineTimeUnit unit)) return null;
        return new LineFormat
        {
            Separator = separator,
            DecimalComma = DecimalComma,
            Columns = Columns,
            ForceColumn = ForceColumn,
            Quantity = quantity,
            CountsPerUnit = CountsPerUnit,
            TimeColumn = TimeColumn,
            TimeUnit = unit,
            CommentPrefix = CommentPrefix,
        };
    }

    /// <summary>A format as it is written under <c>serial.lines</c>.</summary>
    public static JsonObject ToJson(LineFormat format)
    {
        var json = new JsonObject
        {
            ["separator"] = format.Separator switch
            {
                null => "blank",
                ',' => "comma",
                ';' => "semicolon",
                '\t' => "tab",
                { } other => other.ToString()
            },
            ["columns"] = format.Columns,
            ["forceColumn"] = format.ForceColumn,
            ["quantity"] = Word(format.Quantity),
        };
        if (format.DecimalComma) json["decimalComma"] = true;
        if (format.CountsPerUnit is { } resolution) json["countsPerUnit"] = resolution;
        if (format.TimeColumn is { } column)
        {
            json["timeColumn"] = column;
            json["timeUnit"] = Word(format.TimeUnit);
        }

        if (format.CommentPrefix != "#") json["commentPrefix"] = format.CommentPrefix;
        return json;
    }

    private static string Word<T>(T value) where T : struct, Enum => value.ToString().ToLower(CultureInfo.InvariantCulture);

    private static bool TryWord<T>(string word, out T value) where T : struct, Enum
    {
        foreach (T known in Enum.GetValues<T>())
        {
            value = known;
            if (Word(known) == word) return true;
        }

        value = default;
        return false;
    }
}
