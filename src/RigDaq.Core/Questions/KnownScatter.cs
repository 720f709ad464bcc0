namespace RigDaq.Core.Questions;

/// <summary>A scatter that is known from elsewhere.</summary>
/// <param name="Percent">Its standard deviation in per cent of strength, 0 or more.</param>
/// <param name="DegreesOfFreedom">What it rests on; infinite where it was stated.</param>
/// <param name="From">One of <see cref="ScatterSources"/>.</param>
public sealed record KnownScatter(double Percent, double DegreesOfFreedom = double.PositiveInfinity, string From = ScatterSources.Stated)
{
    /// <summary>The variance of its estimated variance, on the logarithm to the fourth power; null where <see cref="DegreesOfFreedom"/> say
    /// it. It counts for an estimate of 0 too, which degrees of freedom cannot say.</summary>
    public double? VarianceOfVariance { get; init; }
}
