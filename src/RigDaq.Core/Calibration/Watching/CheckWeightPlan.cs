using RigDaq.Core.Calibration.References;

namespace RigDaq.Core.Calibration.Watching;

/// <summary>The mass that is read before work.</summary>
/// <param name="DeviceId">The device, as 16 hexadecimal digits.</param>
/// <param name="Reference">Its force where the rig stands.</param>
public sealed record CheckWeightPlan(string DeviceId, ReferenceForce Reference);
