using RigDaq.Core.Specimens;
using RigDaq.Virtual.Materials;
using RigDaq.Virtual.Randomness;

namespace RigDaq.Virtual;

/// <summary>
/// A study's own truth: what each group's mean strength is, and how strong each single specimen is. What is drawn for a specimen depends on
/// the seed and on the names of its group, print and label only: not on how many are drawn, nor in which order, nor over which line.
/// </summary>
/// <param name="seed">What everything is drawn from.</param>
/// <param name="materials">The materials, by name.</param>
public sealed class VirtualPopulation(ulong seed, IEnumerable<VirtualMaterial> materials)
{
    /// <summary>A print's factor stays within so many standard deviations, so that no strength can come out negative.</summary>
    private const double PrintDeviationsMax = 4;

    private readonly Dictionary<string, VirtualMaterial> _materials = materials.ToDictionary(m => m.Name);

    /// <summary>The mean strength of all specimens that could ever be made in a group, in MPa.</summary>
    /// <exception cref="KeyNotFoundException">The material is not known.</exception>
    public double MeanMegapascals(GroupKey group)
    {
        ArgumentNullException.ThrowIfNull(group);
        return Material(group).TrueMeanMegapascals(group.Condition, group.Setting);
    }

    /// <summary>The true strength of one specimen, in MPa: Weibull about its stretch's mean.</summary>
    /// <param name="group">Its group.</param>
    /// <param name="printId">The print it was cut from.</param>
    /// <param name="specimenId">Its label.</param>
    public double StrengthMegapascals(GroupKey group, string printId, string specimenId)
    {
        ArgumentNullException.ThrowIfNull(group);
        VirtualMaterial material = Material(group);
        double print = Deviation(group with { Setting = null }, "print") * material.PrintToPrintPercent / 100;
        double stretch = Deviation(group, "stretch") * material.StretchPercent / 100;
        double printMean = MeanMegapascals(group) * (1 + print) * (1 + stretch);
        double probability = Draw(group, printId, specimenId, "strength").NextUniform();
        return WeibullTruth.Quantile(probability, printMean, material.WeibullModulus);

        double Deviation(GroupKey of, string what) =>
            Math.Clamp(Draw(of, printId, "", what).NextGaussian(), -PrintDeviationsMax, PrintDeviationsMax);
    }

    /// <summary>The true section of one specimen and the readings that a caliper gives of it.</summary>
    public VirtualSection Section(GroupKey group, string printId, string specimenId, VirtualSectioning sectioning)
    {
        ArgumentNullException.ThrowIfNull(group);
        ArgumentNullException.ThrowIfNull(sectioning);
        SeededRandom random = Draw(group, printId, specimenId, "section");
        double width = sectioning.WidthMillimetres + (sectioning.WidthScatterMillimetres * random.NextGaussian());
        double thickness = sectioning.ThicknessMillimetres + (sectioning.ThicknessScatterMillimetres * random.NextGaussian());
        return new VirtualSection(width, thickness, Readings(width, sectioning, random), Readings(thickness, sectioning, random));
    }

    /// <summary>The specimen as it goes into the grips: its strength as a stress times its true section.</summary>
    public VirtualSpecimen Specimen(GroupKey group, string printId, string specimenId, VirtualSection section)
    {
        ArgumentNullException.ThrowIfNull(section);
        double stress = StrengthMegapascals(group, printId, specimenId);
        return Material(group).Pattern with { Label = specimenId, StrengthNewtons = stress * section.AreaSquareMillimetres };
    }

    private static double[] Readings(double truth, VirtualSectioning sectioning, SeededRandom random)
    {
        var readings = new double[sectioning.Readings];
        for (int i = 0; i < readings.Length; i++)
        {
            double seen = truth + (sectioning.ReadingScatterMillimetres * random.NextGaussian());
            double steps = Math.Round(seen / sectioning.ResolutionMillimetres);
            // Decimal, so that a reading of 9.87 mm is 9.87 and not 9.870000000000001.
            readings[i] = (double)((decimal)steps * (decimal)sectioning.ResolutionMillimetres);
        }

        return readings;
    }

    // A setting is equal by value: 210 and 210.0 are the same group.
    private SeededRandom Draw(GroupKey group, string printId, string specimenId, string what) => new(SeedMixer.Mix(
        seed,
        what,
        group.Material,
        group.Condition,
        group.Setting is { } setting ? ((double)setting).ToString("R", System.Globalization.CultureInfo.InvariantCulture) : "",
        printId,
        specimenId));

    private VirtualMaterial Material(GroupKey group) => _materials.TryGetValue(group.Material, out VirtualMaterial? material)
        ? material
        : throw new KeyNotFoundException($"The virtual population has no material {group.Material}.");
}
