namespace RigDaq.Core.Statistics;

/// <summary>A two-parameter Weibull distribution fitted by maximum likelihood. F(σ) = 1 − exp(−(σ/σ₀)^m).</summary>
public sealed record WeibullFit
{
    /// <summary>The modulus m: the higher, the less the strengths scatter. Maximum likelihood reads it too high for few
    /// specimens.</summary>
    public required double Modulus { get; init; }

    /// <summary>The lower end of its profile-likelihood interval; null where the likelihood does not bound it.</summary>
    public required double? ModulusLow { get; init; }

    /// <summary>The upper end of its profile-likelihood interval.</summary>
    public required double? ModulusHigh { get; init; }

    /// <summary>The characteristic strength σ₀ in MPa, below which 63.2 % break.</summary>
    public required double CharacteristicMegapascals { get; init; }

    /// <summary>The lower end of its profile-likelihood interval in MPa.</summary>
    public required double? CharacteristicLowMegapascals { get; init; }

    /// <summary>The upper end of its profile-likelihood interval in MPa.</summary>
    public required double? CharacteristicHighMegapascals { get; init; }

    /// <summary>The logarithm of the likelihood at its greatest.</summary>
    public required double LogLikelihood { get; init; }

    /// <summary>Strengths at which a specimen failed by itself.</summary>
    public required int Failures { get; init; }

    /// <summary>Strengths that a specimen survived: it failed in a grip, right-censored.</summary>
    public required int Censored { get; init; }

    /// <summary>The probability plot's points, rising.</summary>
    public required IReadOnlyList<WeibullPoint> Points { get; init; }

    /// <summary>The strength below which a share of specimens breaks, in MPa.</summary>
    /// <param name="share">Above 0, below 1.</param>
    public double Quantile(double share) => CharacteristicMegapascals * Math.Pow(-Math.Log(1 - share), 1 / Modulus);
}

/// <summary>A point of the probability plot.</summary>
/// <param name="StrengthMegapascals">The strength.</param>
/// <param name="Probability">Its median rank, (i − 0.3)/(n + 0.4) (Benard), i adjusted for censored ones before it (Johnson 1964).</param>
public readonly record struct WeibullPoint(double StrengthMegapascals, double Probability);
