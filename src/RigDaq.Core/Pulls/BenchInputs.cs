namespace RigDaq.Core.Pulls;

/// <summary>What a person knows of caliper and load train: the same for all pieces of a bench. It is kept with each pull, so that what is
/// entered later changes no run of before.</summary>
public sealed record BenchInputs
{
    /// <summary>A caliper's error limit where none is known, in mm: that of a digital caliper with steps of 0.01 mm (ISO 13385-1, from
    /// memory).</summary>
    public const double AssumedCaliperErrorMillimetres = 0.02;

    /// <summary>Bending where none was measured, in per cent: class 5 of ISO 23788, from memory.</summary>
    public const double AssumedBendingPercent = 5;

    /// <summary>The greatest bending that is taken, in per cent: beyond it one side of the piece is pushed.</summary>
    public const double BendingPercentMax = 100;

    /// <summary>The caliper's own error limit in mm, rectangular; null where it is not known.</summary>
    public double? CaliperErrorMillimetres { get; init; }

    /// <summary>Bending of a piece in the grips: the greatest bending stress in per cent of the mean stress (ISO 23788, from memory); null
    /// where it was not measured.</summary>
    public double? BendingPercent { get; init; }

    /// <summary>Bending's standard uncertainty as a share of a strength. A bent piece breaks early, by nothing (it yields) up to the whole
    /// bending (it is brittle): the root mean square of a rectangle from 0 to that, nothing being corrected.</summary>
    public double BendingShare => (BendingPercent ?? AssumedBendingPercent) / 100 / Math.Sqrt(3);

    /// <summary>The caliper's standard uncertainty in mm, common to all lengths that it read.</summary>
    /// <param name="ofReadings">The error limit that was kept with the readings; null where none was.</param>
    public double CaliperMillimetres(double? ofReadings = null) =>
        (ofReadings ?? CaliperErrorMillimetres ?? AssumedCaliperErrorMillimetres) / Math.Sqrt(3);
}
