using RigDaq.Core.Mixed;

namespace RigDaq.Core.Questions;

/// <summary>What estimates contrasts of group means, and for whom its answers hold.</summary>
internal interface IContrasts
{
    /// <summary>One of <see cref="Abouts"/>.</summary>
    string About { get; }

    /// <summary>The contrast; null where there is no scatter to judge it by.</summary>
    ContrastEstimate? Of(Contrast contrast);

    /// <summary>The covariance of two contrasts.</summary>
    double Covariance(Contrast x, Contrast y);
}
