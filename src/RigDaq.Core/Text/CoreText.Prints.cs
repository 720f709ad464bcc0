using System.Globalization;

namespace RigDaq.Core.Text;

/// <content>How a print came to be: storage, drying, chamber, printer settings.</content>
internal static partial class CoreText
{
    public const string NoPrintHasRecord =
        "No print has a record of storage, drying and printing: what differs between groups besides the condition cannot be checked.";

    public static string PrintsWithoutRecord(IReadOnlyList<string> prints) => $"Prints without a record of storage, drying and printing: {string.Join(", ", prints)}.";

    public static string ChamberNotPossible(string print, double celsius) => $"Print {print}: a chamber of {RecordFigure(celsius)} °C is not possible.";

    public static string PrinterSettingTwice(string print, string name) => $"Print {print}: the printer setting “{name}” is noted twice.";

    public static string StorageTemperatureNotPossible(string print, double celsius) => $"Print {print}: storage at {RecordFigure(celsius)} °C is not possible.";

    public static string HumidityNotPossible(string print, double percent) => $"Print {print}: a relative humidity of {RecordFigure(percent)} % is not possible.";

    public static string StorageHoursNotPossible(string print, double hours) => $"Print {print}: {RecordFigure(hours)} hours of storage are not possible.";

    public static string DryingTemperatureNotPossible(string print, double celsius) => $"Print {print}: drying at {RecordFigure(celsius)} °C is not possible.";

    public static string DryingHoursNotPossible(string print, double hours) => $"Print {print}: {RecordFigure(hours)} hours of drying are not possible.";

    public static string MassNotAboveZero(string print) => $"Print {print}: a mass must be above 0 g.";

    public static string DryerNotMeasured(string print) =>
        $"Print {print}: the dryer's temperature was set but not measured; its hottest spot can lie well above (common practice, no source).";

    public static string DryerAboveSet(string print, double measuredCelsius, double setCelsius) =>
        $"Print {print}: the dryer reached {RecordFigure(measuredCelsius)} °C where {RecordFigure(setCelsius)} °C were set.";

    public static string DriedTooHot(string print, double celsius, double lowCelsius, double highCelsius, string plastic) =>
        $"Print {print}: {RecordFigure(celsius)} °C is above the {RecordFigure(lowCelsius)} to {RecordFigure(highCelsius)} °C in use for {plastic} (common practice, no source): the filament may have softened or aged.";

    public static string HeavierAfterDrying(string print) => $"Print {print}: it was heavier after drying than before; were the masses exchanged, or was it weighed warm?";

    private static string RecordFigure(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
