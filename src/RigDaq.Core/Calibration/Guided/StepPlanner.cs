using RigDaq.Core.Calibration.References;
using RigDaq.Core.Text;

namespace RigDaq.Core.Calibration.Guided;

/// <summary>Finds out of the weights a person owns the combinations that make even steps.</summary>
public static class StepPlanner
{
    /// <summary>The most weights that are combined: 4,096 combinations are tried.</summary>
    public const int WeightsMax = 12;

    /// <summary>Steps that rise evenly to all weights together, each by the combination closest to it; fewer where the weights give no
    /// more.</summary>
    /// <param name="weights">The weights; the heaviest twelve are used.</param>
    /// <param name="gravity">Local gravity.</param>
    /// <param name="air">The air.</param>
    /// <param name="count">Steps that are wanted, 2 to 20.</param>
    /// <exception cref="RefusalException">No weights, or a count out of range.</exception>
    public static IReadOnlyList<ReferenceForce> Suggest(IReadOnlyList<Weight> weights, LocalGravity gravity, AirDensity air, int count = 5)
    {
        if (weights.Count == 0) throw new RefusalException(CoreText.GuidePlanNoWeights);
        if (count is < 2 or > GuidePlan.StepsMax) throw new RefusalException(CoreText.GuidePlanStepsWanted(GuidePlan.StepsMax));
        Weight[] used = [.. weights.OrderByDescending(weight => weight.MassKilograms).Take(WeightsMax)];
        double total = used.Sum(weight => weight.MassKilograms);
        var chosen = new SortedDictionary<double, uint>();
        for (int step = 1; step <= count; step++)
        {
            double target = total * step / count;
            uint best = 0;
            double bestMass = 0;
            for (uint set = 1; set < 1u << used.Length; set++)
            {
                double mass = MassOf(set);
                double gain = Math.Abs(bestMass - target) - Math.Abs(mass - target);

                // Of equal masses the one with fewer pieces: less to hang, less to drop.
                if (best == 0 || gain > 1e-9 * total
                    || (gain > -1e-9 * total && System.Numerics.BitOperations.PopCount(set) < System.Numerics.BitOperations.PopCount(best)))
                    (best, bestMass) = (set, mass);
            }

            if (!chosen.Keys.Any(mass => Math.Abs(mass - bestMass) < 1e-3 * total)) chosen[bestMass] = best;
        }

        return [.. chosen.Values.Select(set => ReferenceForces.Hanging([.. used.Where((_, i) => (set & (1u << i)) != 0)], gravity, air))];

        double MassOf(uint set)
        {
            double mass = 0;
            for (int i = 0; i < used.Length; i++)
            {
                if ((set & (1u << i)) != 0) mass += used[i].MassKilograms;
            }

            return mass;
        }
    }
}
