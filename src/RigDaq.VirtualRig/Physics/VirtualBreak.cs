namespace RigDaq.Virtual;

/// <summary>What really happened to a specimen, for tests to hold a measurement against.</summary>
/// <param name="Specimen">Which it was.</param>
/// <param name="PeakForceNewtons">The greatest true force that it bore, in newtons.</param>
/// <param name="RigSeconds">When it parted, in rig time.</param>
/// <param name="SlidOut">Whether it slid out of a grip instead of parting.</param>
public sealed record VirtualBreak(VirtualSpecimen Specimen, double PeakForceNewtons, double RigSeconds, bool SlidOut);
