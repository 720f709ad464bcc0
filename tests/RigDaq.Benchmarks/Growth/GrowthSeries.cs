namespace RigDaq.Benchmarks.Growth;

/// <summary>How a cost grew with a size.</summary>
/// <param name="Name">Of what, in words.</param>
/// <param name="Key">Fit for a key of the table.</param>
/// <param name="Points">In the order of size.</param>
internal sealed record GrowthSeries(string Name, string Key, IReadOnlyList<GrowthPoint> Points)
{
    /// <summary>The power of the size that the cost goes with: the slope of a line through the logarithms, by least squares.</summary>
    public double Exponent
    {
        get
        {
            double[] x = [.. Points.Select(point => Math.Log(point.Size))], y = [.. Points.Select(point => Math.Log(point.Cost))];
            double meanX = x.Average(), meanY = y.Average();
            return x.Zip(y).Sum(pair => (pair.First - meanX) * (pair.Second - meanY)) / x.Sum(one => (one - meanX) * (one - meanX));
        }
    }
}
