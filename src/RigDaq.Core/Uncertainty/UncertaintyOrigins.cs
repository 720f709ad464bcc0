using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Uncertainty;

/// <summary>From which part of the way from counts to a strength an uncertainty comes.</summary>
public enum UncertaintyStage
{
    /// <summary>The calibration, at this force.</summary>
    Calibration,

    /// <summary>The zero of the pull.</summary>
    Zero,

    /// <summary>Reading the peak: noise, sampling, steps.</summary>
    Peak,

    /// <summary>The section: spread and step of its readings.</summary>
    Section,

    /// <summary>The caliper's own error.</summary>
    Caliper,

    /// <summary>Alignment: bending in the grips.</summary>
    Alignment,
}

/// <summary>One origin of a strength's uncertainty.</summary>
/// <param name="Stage">Where on the way it comes in.</param>
/// <param name="Name">In words.</param>
/// <param name="Distribution">normal, or what a half-width was divided by, in words.</param>
/// <param name="StandardPercent">Its standard uncertainty in per cent of the force or of the strength.</param>
/// <param name="SharePercent">Its share of the variance.</param>
/// <param name="IsAssumed">Whether nothing was entered and a usual value was taken.</param>
public sealed record UncertaintyOrigin(UncertaintyStage Stage, string Name, string Distribution, double StandardPercent,
    double SharePercent, bool IsAssumed);

/// <summary>Something to buy or to do, and what it would leave.</summary>
/// <param name="Advice">In words.</param>
/// <param name="ExpandedPercent">The expanded uncertainty then, in per cent.</param>
public sealed record UncertaintyGain(Sentence Advice, double ExpandedPercent);

/// <summary>
/// Where the uncertainty of one strength comes from on this bench, ranked, with three things that would shrink it most: at a force and a
/// section, or of a run as it was stored. Relative uncertainties of a quotient add in squares (JCGM 100, 5.1.6); expanded with k = 2.
/// </summary>
public sealed record UncertaintyOrigins
{
    /// <summary>About 95 % (JCGM 100, 6.3.3).</summary>
    public const double CoverageFactor = 2;

    // A change that gains less than this share of the whole is not worth a sentence.
    private const double GainMin = 0.01;
    private const int GainsMax = 3;

    /// <summary>The force in newtons.</summary>
    public required double ForceNewtons { get; init; }

    /// <summary>Whether it is about a strength; else about the force alone.</summary>
    public required bool OfStrength { get; init; }

    /// <summary>The expanded uncertainty in per cent: of the strength, or of the force where no section was given.</summary>
    public required double ExpandedPercent { get; init; }

    /// <summary>The origins, the greatest first.</summary>
    public required IReadOnlyList<UncertaintyOrigin> Origins { get; init; }

    /// <summary>At most three, the most helpful first; where fewer would be noticed, what would help once they are done.</summary>
    public required IReadOnlyList<UncertaintyGain> Gains { get; init; }

    /// <summary>What a person should know about the force's uncertainty, what was assumed among it.</summary>
    public IReadOnlyList<Sentence> Notes { get; init; } = [];

    /// <summary>Reckons it at a force and a section; null where the calibration says nothing of that force.</summary>
    /// <param name="model">The calibration's.</param>
    /// <param name="forceNewtons">A peak force, above 0.</param>
    /// <param name="section">Width and thickness as read; null for the force alone.</param>
    /// <param name="bench">What is known of caliper and load train.</param>
    public static UncertaintyOrigins? Of(UncertaintyModel model, double forceNewtons, SectionMeasurement? section, BenchInputs bench)
    {
        Section? measured = section is null ? null : SectionCalculation.OfReadings(section).Section;
        SectionPart? part = measured is null ? null : SectionPart.Of(measured) with { ByMicrometer = SectionPart.WithMicrometer(section!) };
        return Of(new UncertaintyCase { Model = model, ForceNewtons = forceNewtons, Section = part, Bench = bench });
    }

    /// <summary>Of a run as it was stored: what it kept of caliper and load train, else (runs from before those were kept) what is usual.
    /// Null where it has no strength.</summary>
    /// <param name="run">The run.</param>
    /// <param name="model">What its calibration's uncertainty is computed from; null where that is not known.</param>
    /// <param name="section">The section as the study has it now, for runs that kept nothing of the caliper; null where it is not
    /// known.</param>
    public static UncertaintyOrigins? OfRun(Run run, UncertaintyModel? model, Section? section)
    {
        if (run.Strength is not { Megapascals: > 0 } strength || run.Reading?.PeakForceNewtons is not { } peak || !(peak > 0)) return null;
        return Of(new UncertaintyCase
        {
            Model = model,
            ForceNewtons = peak,
            ReadingPercent = 100 * (run.Reading.PeakForceStandardUncertaintyNewtons ?? 0) / peak,
            ZeroPercent = 100 * (run.Reading.ZeroStandardUncertaintyNewtons ?? 0) / peak,
            Section = SectionPart.Of(strength, section),
            Bench = run.Head.Recording is not null ? null : new BenchInputs { BendingPercent = strength.Bench?.BendingPercent },
        });
    }

    private static UncertaintyOrigins? Of(UncertaintyCase now)
    {
        if (now.Parts() is not { } parts) return null;
        double variance = parts.Sum(part => part.Percent * part.Percent);
        double expanded = Expanded(parts);
        return new UncertaintyOrigins
        {
            ForceNewtons = now.ForceNewtons,
            OfStrength = now.Section is not null,
            ExpandedPercent = expanded,
            Origins =
            [
                .. parts.Where(part => part.Percent > 0).OrderByDescending(part => part.Percent)
                    .Select(part => new UncertaintyOrigin(part.Stage, part.Name, part.Distribution, part.Percent, 100 * part.Percent
                        * part.Percent / variance, part.Assumed)),
            ],
            Gains = GainsOf(now, parts, expanded),
            Notes = now.Notes(),
        };
    }

    // Each by itself; where one thing outweighs all others, what would help once that is done.
    private static List<UncertaintyGain> GainsOf(UncertaintyCase now, IReadOnlyList<UncertaintyPart> parts, double expanded)
    {
        var left = UncertaintyAdvice.Of(now).Where(change => change.Parts is not null).ToList();
        var gains = new List<UncertaintyGain>();
        IReadOnlyList<UncertaintyPart> done = parts;
        foreach (var change in left.Where(change => Helps(change.Parts!, expanded)).OrderBy(change => Expanded(change.Parts!))
            .Take(GainsMax).ToList())
        {
            gains.Add(new UncertaintyGain(change.Advice, Expanded(change.Parts!)));
            done = Both(done, change.Parts!);
            left.Remove(change);
        }

        while (gains.Count is > 0 and < GainsMax)
        {
            var next = left.Select(change => (change.Advice, Parts: Both(done, change.Parts!)))
                .Where(change => Helps(change.Parts, Expanded(done))).OrderBy(change => Expanded(change.Parts)).FirstOrDefault();
            if (next.Parts is null) break;
            gains.Add(new UncertaintyGain(CoreText.AdviceThen(next.Advice), Expanded(next.Parts)));
            done = next.Parts;
            left.RemoveAll(change => change.Advice == next.Advice);
        }

        return gains;
    }

    private static bool Helps(IReadOnlyList<UncertaintyPart> parts, double than) => Expanded(parts) < than * (1 - GainMin);

    private static double Expanded(IReadOnlyList<UncertaintyPart> parts) =>
        CoverageFactor * Math.Sqrt(parts.Sum(part => part.Percent * part.Percent));

    // Of each part what the better of two changes leaves.
    private static List<UncertaintyPart> Both(IReadOnlyList<UncertaintyPart> one, IReadOnlyList<UncertaintyPart> other) =>
    [
        .. one.Select(part => part with
            { Percent = Math.Min(part.Percent, other.FirstOrDefault(o => o.Stage == part.Stage && o.Name == part.Name).Percent) }),
    ];
}
