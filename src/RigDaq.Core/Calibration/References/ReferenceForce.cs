using RigDaq.Core.Text;

namespace RigDaq.Core.Calibration.References;

/// <summary>The part of a force's standard uncertainty that one source brings. Parts of one source in several forces move together (one
/// weight in two combinations, one gravity in all); different sources are independent.</summary>
/// <param name="Source">What it is: the same words mean the same source. They are kept with the readings and compared, never shown, so they
/// have no translation.</param>
/// <param name="Newtons">By how much the force changes when the source is off by one standard uncertainty; signed.</param>
public sealed record UncertaintyShare(string Source, double Newtons);

/// <summary>A force that is known, with what it is uncertain by.</summary>
public sealed record ReferenceForce
{
    /// <summary>Nothing hangs: a zero.</summary>
    public static ReferenceForce Zero => new() { Newtons = 0, Description = CoreText.ReferenceOfNothing };

    /// <summary>The force in newtons, 0 or above.</summary>
    public required double Newtons { get; init; }

    /// <summary>What makes it, for the person and for the record.</summary>
    public string Description { get; init; } = "";

    /// <summary>What it is uncertain by, source by source; empty where that is not known.</summary>
    public IReadOnlyList<UncertaintyShare> Shares { get; init; } = [];

    /// <summary>Its standard uncertainty in newtons: the root of the sum of squares of the shares.</summary>
    public double StandardUncertaintyNewtons => Math.Sqrt(CovarianceWith(this));

    /// <summary>The covariance with another force in N²: shares of the same source, multiplied and added up.</summary>
    public double CovarianceWith(ReferenceForce other)
    {
        double sum = 0;
        foreach (var mine in Shares)
        {
            foreach (var theirs in other.Shares)
            {
                if (mine.Source == theirs.Source) sum += mine.Newtons * theirs.Newtons;
            }
        }

        return sum;
    }
}
