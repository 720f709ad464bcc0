using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;
using RigDaq.Reports.Html;
using RigDaq.Reports.Pdf;
using UglyToad.PdfPig;

namespace RigDaq.Reports.Tests.Calibration;

public sealed class CalibrationRecordTest
{
    private static readonly CalibrationRecord Record = Make();

    [Fact]
    public void Says_in_HTML_what_it_is_and_is_not_and_holds_the_readings()
    {
        string page = CalibrationRecordHtml.Render(Record);
        Assert.Contains("no accredited verification", page, StringComparison.Ordinal);
        Assert.Contains("<svg", page, StringComparison.Ordinal);
        Assert.Contains("GRS80", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<script", page, StringComparison.Ordinal);
        foreach (CalibrationReading reading in Record.Readings)
            Assert.Contains(reading.Counts.ToString("0.0", System.Globalization.CultureInfo.InvariantCulture), page,
                StringComparison.Ordinal);
        Save("calibration-record.html", System.Text.Encoding.UTF8.GetBytes(page));
    }

    // The text is read back by another library than the one that wrote it.
    [Fact]
    public void Says_the_same_in_PDF()
    {
        byte[] file = CalibrationRecordPdf.Render(Record);
        using var document = PdfDocument.Open(file);
        string text = string.Concat(document.GetPages().SelectMany(page => page.GetWords()).Select(word => word.Text + " "));
        Assert.Contains("no accredited verification", text, StringComparison.Ordinal);
        foreach (string words in (string[])["Uncertainty of a force of", "The weights", "The readings", "local gravity", "2 kg no. 5"])
            Assert.Contains(words, text, StringComparison.Ordinal);
        Save("calibration-record.pdf", file);
    }

    // For whoever wants to look: RIGDAQ_LOOK names a folder.
    private static void Save(string name, byte[] file)
    {
        if (Environment.GetEnvironmentVariable("RIGDAQ_LOOK") is { Length: > 0 } folder) File.WriteAllBytes(Path.Combine(folder, name),
            file);
    }

    private static CalibrationRecord Make()
    {
        Weight[] weights = [.. Enumerable.Range(1, 5).Select(i => Weight.OfClass($"2 kg no. {i}", 2, WeightClass.M1))];
        var gravity = LocalGravity.At(52.2, 34);
        var air = AirDensity.AtHeight(34);
        var readings = new List<CalibrationReading>();
        int wobble = 0;
        foreach (string series in (string[])["1", "2", "3"])
        {
            readings.Add(Reading(series, LoadDirection.Rising, ReferenceForce.Zero) with { FluctuationCounts = 58 });
            for (int n = 1; n <= 5; n++) readings
                .Add(Reading(series, LoadDirection.Rising, ReferenceForces.Hanging(weights[..n], gravity, air)));
            for (int n = 4; n >= 1 && series == "3"; n--) readings
                .Add(Reading(series, LoadDirection.Falling, ReferenceForces.Hanging(weights[..n], gravity, air)));
            readings.Add(Reading(series, LoadDirection.Falling, ReferenceForce.Zero));
        }

        var fit = CalibrationFit.Of(readings, new FitSettings(),
            new UncertaintyInputs { FullScaleNewtons = 981, NonLinearityPercent = 0.03 });
        return CalibrationBuilder.Accept(fit, "0199d3c0-0000-7000-8000-000000000001", "00000000000000aa",
            new DateTimeOffset(2026, 3, 1, 9, 0, 0, TimeSpan.Zero),
            new CalibrationCircumstances
            {
                Person = "K. Lane",
                Place = "Kestrel Lane Workshop",
                Cell = "100 kg, no. 7",
                AmplifierSetting = "gain 128, 80 a second",
                TemperatureCelsius = 21.5,
                Gravity = gravity,
                Air = air,
                Weights = weights,
            });

        // A fixed wobble of some counts stands in for noise.
        CalibrationReading Reading(string series, LoadDirection direction, ReferenceForce reference) => new()
        {
            Series = series,
            Direction = direction,
            Reference = reference,
            Counts = 81_000 + (2000 * reference.Newtons) + (6 * Math.Sin(2.4 * wobble++)) + (direction == LoadDirection.Falling ? 9 : 0),
        };
    }
}
