using RigDaq.Core.Quantities;
using RigDaq.Core.Statistics;

namespace RigDaq.Core.Calibration.Recording;

/// <summary>What stands at the head of a calibration record.</summary>
internal static class DocumentFacts
{
    public static IEnumerable<DocumentFact> Of(CalibrationRecord record, Units units)
    {
        yield return new DocumentFact("calibration", record.Id);
        yield return new DocumentFact("device", record.DeviceId);
        yield return new DocumentFact("accepted", FormattableString.Invariant($"{record.AcceptedAt:yyyy-MM-dd HH:mm zzz}"));
        yield return new DocumentFact("valid until", FormattableString.Invariant($"{record.ValidUntil:yyyy-MM-dd}, or until an overload or a change of cell or amplifier"));
        yield return new DocumentFact("greatest reference force", $"{units.Force.Text(record.GreatestReferenceNewtons, 1)}; beyond it the curve is extrapolated");
        if (record.ResidualStandardDeviationNewtons is { } residual) yield return new DocumentFact("residual standard deviation", $"{NumberText.Significant(units.Force.Of(residual), 2)} {units.Force.Symbol}");
        if (record.RSquared is { } square) yield return new DocumentFact("R² about zero", FormattableString.Invariant($"{square:0.0000000000}"));
        if (record.Figures?.ZeroErrorPercent is { } zero) yield return new DocumentFact("zero error f0", FormattableString.Invariant($"{zero:0.000} %"));
        if (record.NoiseCounts is { } noise) yield return new DocumentFact("noise at rest", FormattableString.Invariant($"{noise:0.#} counts (standard deviation of single samples)"));
        if (record.Fit.NegativeSlopeAccepted) yield return new DocumentFact("sign", "turned with the person's consent: counts fall as the force rises");
        foreach (var fact in Inputs(record, units)) yield return fact;
        foreach (var fact in Circumstances(record.Circumstances)) yield return fact;
    }

    private static IEnumerable<DocumentFact> Inputs(CalibrationRecord record, Units units)
    {
        if (record.Uncertainty?.Inputs is not { } inputs) yield break;
        yield return new DocumentFact("cell's full scale", inputs.FullScaleNewtons is { } scale ? units.Force.Text(scale, 0) : "not given");
        yield return new DocumentFact("cell's non-linearity", inputs.NonLinearityPercent is { } percent
            ? FormattableString.Invariant($"{percent:0.###} % of full scale, {(inputs.NonLinearityOfBestLine ? "best line (doubled)" : "terminal line")}")
            : "not given; 0.05 % of full scale is assumed beyond the references");
        yield return new DocumentFact("temperature effect", inputs is { TemperaturePercentPerKelvin: { } effect, TemperatureSpreadKelvin: { } spread }
            ? FormattableString.Invariant($"{effect:0.####} % per kelvin over ±{spread:0.#} K")
            : "not given");
    }

    private static IEnumerable<DocumentFact> Circumstances(CalibrationCircumstances? under)
    {
        if (under is null) yield break;
        if (under.Person.Length > 0) yield return new DocumentFact("made by", under.Person);
        if (under.Place.Length > 0) yield return new DocumentFact("place", under.Place);
        if (under.Cell.Length > 0) yield return new DocumentFact("load cell", under.Cell);
        if (under.AmplifierSetting.Length > 0) yield return new DocumentFact("amplifier", under.AmplifierSetting);
        if (under.SampleRateHertz is { } rate) yield return new DocumentFact("sample rate", FormattableString.Invariant($"{rate:0.#} a second"));
        if (under.TemperatureCelsius is { } temperature) yield return new DocumentFact("room temperature", FormattableString.Invariant($"{temperature:0.#} °C"));
        if (under.Gravity is { } gravity)
        {
            yield return new DocumentFact("local gravity", FormattableString.Invariant(
                $"{gravity.MetresPerSecondSquared:0.00000} m/s², standard uncertainty {gravity.StandardUncertaintyMetresPerSecondSquared:0.00000} m/s²; {gravity.Origin}"));
        }

        if (under.Air is { } air)
        {
            yield return new DocumentFact("density of the air", FormattableString.Invariant(
                $"{air.KilogramsPerCubicMetre:0.000} kg/m³, standard uncertainty {air.StandardUncertaintyKilogramsPerCubicMetre:0.000} kg/m³"));
        }

        if (under.Remarks.Length > 0) yield return new DocumentFact("remarks", under.Remarks);
    }
}
