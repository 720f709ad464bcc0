namespace RigDaq.Core.Safety;

/// <summary>The emergency stop was tried, and took the motor's power: said by a person who looked, no measurement.</summary>
/// <param name="DeviceId">The device, as 16 hexadecimal digits.</param>
/// <param name="At">When the person said so.</param>
/// <param name="SeenAt">When the device last saw it pressed with its motor's power gone; null where it has no input for it.</param>
public sealed record EmergencyStopTest(string DeviceId, DateTimeOffset At, DateTimeOffset? SeenAt);
