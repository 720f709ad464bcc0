using System.Text.Json;

namespace RigDaq.Protocol.Tests.Firmware;

/// <summary>The real image of a firmware in a simulated chip whose clock stands until it is told to go on.</summary>
internal interface ILockStepBoard : IAsyncDisposable
{
    /// <summary>Gives bytes to the device's line, lets time go on, and takes what came from the device.</summary>
    Task<byte[]> Exchange(int milliseconds, ReadOnlyMemory<byte> toDevice);

    /// <summary>Works something of the world: `guard 0`, `estop 1`, `specimen K S F` (firmware-protocol/README.md).</summary>
    Task<string> Ask(string command);

    /// <summary>What happened at the pins, from the outside.</summary>
    Task<JsonElement> Look();
}
