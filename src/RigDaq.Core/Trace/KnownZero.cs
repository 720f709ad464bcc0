namespace RigDaq.Core.Trace;

/// <summary>The zero of a trace where it was taken beforehand.</summary>
/// <param name="ZeroNewtons">In newtons of the trace as given: subtracted from every force.</param>
/// <param name="NoiseNewtons">The standard deviation of the force while it was taken.</param>
/// <param name="Samples">How many conversions it was taken from; 0 where that is not known.</param>
/// <param name="AgeSeconds">How long before the first sample it was taken.</param>
/// <param name="AfterNewtons">The zero after the break, above the one before; null where none was taken.</param>
public readonly record struct KnownZero(double ZeroNewtons, double NoiseNewtons, int Samples = 0, double AgeSeconds = 0,
    double? AfterNewtons = null);
