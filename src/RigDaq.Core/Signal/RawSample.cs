namespace RigDaq.Core.Signal;

/// <summary>One conversion as the device sent it; nothing in it has been interpreted.</summary>
/// <param name="Number">Counts every conversion since the device's start, unwrapped to 64 bits; gaps are lost samples.</param>
/// <param name="DeviceMicroseconds">When the conversion ended, on the device's clock, unwrapped to 64 bits.</param>
/// <param name="Counts">The converter's counts, signed, within 24 bits.</param>
/// <param name="CrossheadSteps">The crosshead's position in steps from home, positive apart; 0 where it is not known.</param>
public readonly record struct RawSample(long Number, long DeviceMicroseconds, int Counts, int CrossheadSteps);
