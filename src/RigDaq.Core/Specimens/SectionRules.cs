using RigDaq.Core.Statistics;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Specimens;

/// <summary>What is wrong with a section that was typed, and what is merely unlikely and asked about at once.</summary>
public static class SectionRules
{
    /// <summary>The most readings of one dimension.</summary>
    public const int ReadingsMax = 100;

    /// <summary>The smallest dimension that is taken without a question, in mm: a single wall is wider.</summary>
    public const double LikelyMillimetresMin = 0.2;

    /// <summary>The greatest dimension that is taken without a question, in mm.</summary>
    public const double LikelyMillimetresMax = 100;

    /// <summary>How far a reading may lie from the others of its kind, as a ratio, without a question.</summary>
    public const double LikelyRatioMax = 1.15;

    /// <summary>Where the ratio comes this near to 10 or 100, a slipped decimal point is suspected.</summary>
    public const double SlippedDecimalTolerance = 1.3;

    /// <summary>Why no area can be computed from these readings, or null where one can.</summary>
    public static Sentence? Refusal(SectionMeasurement measurement)
    {
        bool linear = measurement.WidthsMillimetres.Count > 0 || measurement.ThicknessesMillimetres.Count > 0;
        int ways = (linear ? 1 : 0) + (measurement.AreaSquareMillimetres is null ? 0 : 1) + (measurement.Mass is null ? 0 : 1);
        if (ways == 0) return CoreText.SectionWithoutReadings;
        if (ways > 1) return CoreText.SectionInSeveralWays;
        if (measurement.Mass is { } mass)
        {
            return NotPositive(CoreText.SectionMass, mass.MassGrams, "g") ?? NotPositive(CoreText.SectionLength,
                mass.LengthMillimetres, "mm") ?? NotPositive(CoreText.SectionDensity, mass.DensityGramsPerCubicCentimetre, "g/cm³")
                ?? BadUncertainty(CoreText.SectionMass, mass.MassStandardUncertaintyGrams)
                ?? BadUncertainty(CoreText.SectionLength, mass.LengthStandardUncertaintyMillimetres)
                ?? BadUncertainty(CoreText.SectionDensity, mass.DensityStandardUncertaintyGramsPerCubicCentimetre);
        }

        if (measurement.AreaSquareMillimetres is { } area)
            return NotPositive(CoreText.SectionArea, area, "mm²")
                ?? BadUncertainty(CoreText.SectionArea, measurement.AreaStandardUncertaintySquareMillimetres ?? 0);
        if (measurement.WidthsMillimetres.Count == 0) return CoreText.WidthMissing;
        if (measurement.ThicknessesMillimetres.Count == 0) return CoreText.ThicknessMissing;
        if (measurement.WidthsMillimetres.Count > ReadingsMax || measurement.ThicknessesMillimetres.Count > ReadingsMax)
            return CoreText.TooManyReadings(ReadingsMax);
        if (!(measurement.ResolutionMillimetres >= 0 && double.IsFinite(measurement.ResolutionMillimetres)))
            return CoreText.CaliperResolutionNegative;
        if (measurement.CaliperErrorMillimetres is { } error && !(error is >= 0 and <= SectionMeasurement.CaliperErrorMillimetresMax))
            return CoreText.CaliperErrorOutOfRange(SectionMeasurement.CaliperErrorMillimetresMax);
        return measurement.WidthsMillimetres.Select(w => NotPositive(CoreText.SectionWidth, w, "mm"))
            .Concat(measurement.ThicknessesMillimetres.Select(t => NotPositive(CoreText.SectionThickness, t, "mm")))
                .FirstOrDefault(fault => fault is not null);
    }

    /// <summary>Questions to put at once: each is answered by correcting the value or by saying that it is right.</summary>
    /// <param name="measurement">What was typed.</param>
    /// <param name="sameGroup">The sections already measured in the same group.</param>
    /// <param name="otherGroups">Those of other groups, by a name for each.</param>
    public static IReadOnlyList<Sentence> Questions(SectionMeasurement measurement, IReadOnlyList<SectionMeasurement> sameGroup,
        IReadOnlyDictionary<string, IReadOnlyList<SectionMeasurement>> otherGroups)
    {
        if (Refusal(measurement) is not null) return [];
        var questions = new List<Sentence>();
        var kinds = new (Sentence Name, string Unit, Func<SectionMeasurement, IEnumerable<double>> Readings)[]
        {
            (CoreText.SectionWidth, "mm", s => s.WidthsMillimetres),
            (CoreText.SectionThickness, "mm", s => s.ThicknessesMillimetres),
            (CoreText.SectionArea, "mm²", s => s.AreaSquareMillimetres is { } area ? [area] : []),
            (CoreText.SectionMassPerLength, "g/mm", s => s.Mass is { } mass ? [mass.MassGrams / mass.LengthMillimetres] : []),
        };
        foreach (var kind in kinds)
        {
            double[] own = [.. kind.Readings(measurement)];
            if (own.Length == 0) continue;
            double[] same = [.. sameGroup.SelectMany(kind.Readings).Where(IsPositive)];
            double[] elsewhere = [.. otherGroups.Values.SelectMany(sections => sections).SelectMany(kind.Readings).Where(IsPositive)];
            double? expected = same.Length > 0 ? Moments.Median(same) : own.Length > 2 ? Moments.Median(own) : null;
            foreach (double reading in own)
            {
                if (expected is { } usual && Ratio(reading, usual) > LikelyRatioMax)
                {
                    questions.Add(CoreText.ReadingFarFromMedian(
                        kind.Name, reading, usual, kind.Unit, same.Length > 0, Slipped(reading, usual),
                            OtherGroup(reading, kind.Readings, otherGroups)));
                }
                else if (expected is null && elsewhere.Length > 0 && Slipped(reading, Moments.Median(elsewhere)) is { } meantAsElsewhere)
                {
                    questions.Add(CoreText.ReadingFarFromOtherGroups(kind.Name, reading, Moments.Median(elsewhere), meantAsElsewhere,
                        kind.Unit));
                }
                else if (kind.Unit == "mm" && (reading < LikelyMillimetresMin || reading > LikelyMillimetresMax))
                {
                    questions.Add(CoreText.ReadingUnlikely(kind.Name, reading, kind.Unit));
                }
            }

            if (expected is null && own.Length == 2 && Ratio(own[0], own[1]) > LikelyRatioMax)
                questions.Add(CoreText.TwoReadingsDiffer(kind.Name, own[0], own[1], kind.Unit));
        }

        if (LooksSwapped(measurement, sameGroup)) questions.Add(CoreText.SectionLooksSwapped);
        return questions;
    }

    /// <summary>The questions for one specimen of a study, by what else the study holds.</summary>
    public static IReadOnlyList<Sentence> Questions(Study study, string specimenId, SectionMeasurement measurement)
    {
        IReadOnlyDictionary<string, GroupKey> groups = study.GroupOfSpecimens();
        if (!groups.TryGetValue(specimenId, out GroupKey? own)) return [];
        ILookup<GroupKey, SectionMeasurement> measured = study.Specimens
            .Where(s => s.Id != specimenId && s.Section is not null && groups.ContainsKey(s.Id))
                .ToLookup(s => groups[s.Id], s => s.Section!);
        return Questions(measurement, [.. measured[own]], measured.Where(g => g.Key != own)
            .ToDictionary(g => g.Key.Describe(study.SettingUnit), g => (IReadOnlyList<SectionMeasurement>)[.. g]));
    }

    private static Sentence? NotPositive(Sentence name, double value, string unit) =>
        IsPositive(value) ? null : CoreText.ReadingNotPositive(name, value, unit);

    private static Sentence? BadUncertainty(Sentence name, double value) =>
        value >= 0 && double.IsFinite(value) ? null : CoreText.ReadingUncertaintyNegative(name);

    private static bool IsPositive(double value) => value > 0 && double.IsFinite(value);

    private static double Ratio(double a, double b) => a > b ? a / b : b / a;

    private static double? Slipped(double reading, double usual)
    {
        foreach (double factor in new[] { 10.0, 100.0, 0.1, 0.01, 1000.0, 0.001 })
        {
            if (Ratio(reading, usual * factor) < SlippedDecimalTolerance) return reading / factor;
        }

        return null;
    }

    private static string? OtherGroup(double reading, Func<SectionMeasurement, IEnumerable<double>> readings,
        IReadOnlyDictionary<string, IReadOnlyList<SectionMeasurement>> others)
    {
        foreach ((string name, IReadOnlyList<SectionMeasurement> sections) in others)
        {
            double[] values = [.. sections.SelectMany(readings).Where(IsPositive)];
            if (values.Length > 0 && Ratio(reading, Moments.Median(values)) < 1 + (LikelyRatioMax - 1) / 3) return name;
        }

        return null;
    }

    private static bool LooksSwapped(SectionMeasurement measurement, IReadOnlyList<SectionMeasurement> sameGroup)
    {
        double[] widths = [.. sameGroup.SelectMany(s => s.WidthsMillimetres).Where(IsPositive)];
        double[] thicknesses = [.. sameGroup.SelectMany(s => s.ThicknessesMillimetres).Where(IsPositive)];
        if (widths.Length == 0 || thicknesses.Length == 0 || measurement.WidthsMillimetres.Count == 0
            || measurement.ThicknessesMillimetres.Count == 0) return false;
        double width = Moments.Median(widths), thickness = Moments.Median(thicknesses);
        return Ratio(width, thickness) > LikelyRatioMax && Ratio(Moments.Mean(measurement.WidthsMillimetres), thickness) < LikelyRatioMax
            && Ratio(Moments.Mean(measurement.ThicknessesMillimetres), width) < LikelyRatioMax;
    }
}
