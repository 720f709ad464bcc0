namespace RigDaq.Core.Quantities;

/// <summary>A figure that can be had, or none.</summary>
public static class Figure
{
    /// <summary>The figure where it is a number; null where it overflowed, or is none.</summary>
    public static double? FiniteOrNull(double? figure) => figure is { } number && double.IsFinite(number) ? number : null;
}
