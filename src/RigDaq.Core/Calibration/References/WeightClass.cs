namespace RigDaq.Core.Calibration.References;

/// <summary>Accuracy classes of weights after OIML R 111-1:2004, from the finest that is met in a workshop to the coarsest.</summary>
public enum WeightClass
{
    /// <summary>E2: reference weights for fine balances.</summary>
    E2,

    /// <summary>F1.</summary>
    F1,

    /// <summary>F2.</summary>
    F2,

    /// <summary>M1: good trade weights, 50 mg on 1 kg.</summary>
    M1,

    /// <summary>M2.</summary>
    M2,

    /// <summary>M3: plain cast-iron weights, 500 mg on 1 kg.</summary>
    M3,
}
