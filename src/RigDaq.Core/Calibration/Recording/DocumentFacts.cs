using RigDaq.Core.Quantities;
using RigDaq.Core.Text;

namespace RigDaq.Core.Calibration.Recording;

/// <summary>What stands at the head of a calibration record.</summary>
internal static class DocumentFacts
{
    public static IEnumerable<DocumentFact> Of(CalibrationRecord record, Units units)
    {
        yield return new DocumentFact(CoreText.DocumentCalibration, record.Id);
        yield return new DocumentFact(CoreText.DocumentDevice, record.DeviceId);
        yield return new DocumentFact(CoreText.DocumentAccepted, FormattableString.Invariant($"{record.AcceptedAt:yyyy-MM-dd HH:mm zzz}"));
        yield return new DocumentFact(CoreText.DocumentValidUntil, CoreText.DocumentValidUntilDay(record.ValidUntil));
        yield return new DocumentFact(CoreText.DocumentGreatestReference,
            CoreText.DocumentGreatestReferenceForce(units.Force.Text(record.GreatestReferenceNewtons, 1)));
        if (record.ResidualStandardDeviationNewtons is { } residual) yield return new DocumentFact(CoreText.DocumentResidualDeviation,
            $"{NumberText.Significant(units.Force.Of(residual), 2)} {units.Force.Symbol}");
        if (record.RSquared is { } square) yield return new DocumentFact(CoreText.DocumentRSquared,
            FormattableString.Invariant($"{square:0.0000000000}"));
        if (record.Figures?.ZeroErrorPercent is { } zero) yield return new DocumentFact(CoreText.DocumentZeroError,
            FormattableString.Invariant($"{zero:0.000} %"));
        if (record.NoiseCounts is { } noise) yield return new DocumentFact(CoreText.DocumentNoise, CoreText.DocumentNoiseCounts(noise));
        if (record.Fit.NegativeSlopeAccepted) yield return new DocumentFact(CoreText.DocumentSign, CoreText.DocumentSignTurned);
        foreach (var fact in Inputs(record, units)) yield return fact;
        foreach (var fact in Circumstances(record.Circumstances)) yield return fact;
    }

    private static IEnumerable<DocumentFact> Inputs(CalibrationRecord record, Units units)
    {
        if (record.Uncertainty?.Inputs is not { } inputs) yield break;
        yield return new DocumentFact(CoreText.DocumentFullScale, inputs.FullScaleNewtons is { } scale ? units.Force.Text(scale, 0)
            : CoreText.DocumentNotGiven);
        yield return new DocumentFact(CoreText.DocumentNonLinearity, inputs.NonLinearityPercent is { } percent
            ? CoreText.DocumentNonLinearityPercent(percent, inputs.NonLinearityOfBestLine)
            : CoreText.DocumentNonLinearityAssumed);
        yield return new DocumentFact(CoreText.DocumentTemperatureEffect,
            inputs is { TemperaturePercentPerKelvin: { } effect, TemperatureSpreadKelvin: { } spread }
            ? CoreText.DocumentTemperaturePercent(effect, spread)
            : CoreText.DocumentNotGiven);
    }

    private static IEnumerable<DocumentFact> Circumstances(CalibrationCircumstances? under)
    {
        if (under is null) yield break;
        if (under.Person.Length > 0) yield return new DocumentFact(CoreText.DocumentMadeBy, under.Person);
        if (under.Place.Length > 0) yield return new DocumentFact(CoreText.DocumentPlace, under.Place);
        if (under.Cell.Length > 0) yield return new DocumentFact(CoreText.DocumentCell, under.Cell);
        if (under.AmplifierSetting.Length > 0) yield return new DocumentFact(CoreText.DocumentAmplifier, under.AmplifierSetting);
        if (under.SampleRateHertz is { } rate) yield return new DocumentFact(CoreText.DocumentSampleRate,
            CoreText.DocumentSamplesPerSecond(rate));
        if (under.TemperatureCelsius is { } temperature) yield return new DocumentFact(CoreText.DocumentRoomTemperature,
            FormattableString.Invariant($"{temperature:0.#} °C"));
        if (under.Gravity is { } gravity)
        {
            yield return new DocumentFact(CoreText.DocumentGravity,
                CoreText.DocumentGravityValue(gravity.MetresPerSecondSquared, gravity.StandardUncertaintyMetresPerSecondSquared,
                    gravity.Origin));
        }

        if (under.Air is { } air)
        {
            yield return new DocumentFact(CoreText.DocumentAir,
                CoreText.DocumentAirDensity(air.KilogramsPerCubicMetre, air.StandardUncertaintyKilogramsPerCubicMetre));
        }

        if (under.Remarks.Length > 0) yield return new DocumentFact(CoreText.DocumentRemarks, under.Remarks);
    }
}
