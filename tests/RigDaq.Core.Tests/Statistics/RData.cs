using RigDaq.Core.Groups;
using RigDaq.Core.Specimens;

namespace RigDaq.Core.Tests.Statistics;

/// <summary>Data sets that come with R 4.2: PlantGrowth (Dobson 1983) and sleep (Gosset 1908).</summary>
internal static class RData
{
    public static readonly (string Name, double[] Values)[] PlantGrowth =
    [
        ("ctrl", [4.17, 5.58, 5.18, 6.11, 4.50, 4.61, 5.17, 4.53, 5.33, 5.14]),
        ("trt1", [4.81, 4.17, 4.41, 3.59, 5.87, 3.83, 6.03, 4.89, 4.32, 4.69]),
        ("trt2", [6.31, 5.12, 5.54, 5.50, 5.37, 5.29, 4.92, 6.15, 5.80, 5.26]),
    ];

    public static readonly (string Name, double[] Values)[] Sleep =
    [
        ("1", [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0]),
        ("2", [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4]),
    ];

    public static Observation[] Observations(IEnumerable<(string Name, double[] Values)> groups) =>
        [.. groups.SelectMany(g => g.Values.Select(v => new Observation(new GroupKey("plant", g.Name, null), "", v)))];
}
