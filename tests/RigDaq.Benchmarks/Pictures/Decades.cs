using System.Globalization;
using ScottPlot;
using ScottPlot.TickGenerators;

namespace RigDaq.Benchmarks.Pictures;

/// <summary>Figures on an axis that holds logarithms.</summary>
internal static class Decades
{
    public static void Set(IAxis axis, double[] figures)
    {
        var ticks = new NumericManual();
        foreach (double figure in figures)
            ticks.AddMajor(Math.Log10(figure), figure.ToString("#,0.######", CultureInfo.InvariantCulture));
        axis.TickGenerator = ticks;
    }
}
