namespace RigDaq.Web.Views;

/// <summary>What the page says over its socket: a jog while it is held, or a stop with the id of its press.</summary>
internal sealed record JogMessage(double JogMillimetresPerSecond, bool Stop, string? Id);
