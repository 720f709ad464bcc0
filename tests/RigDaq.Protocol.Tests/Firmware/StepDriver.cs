using System.Buffers.Binary;

namespace RigDaq.Protocol.Tests.Firmware;

/// <summary>A step driver that is set up over a line of its own, as the port's driver.c speaks to one: registers that are written and read
/// back, and a status.</summary>
internal sealed class StepDriver
{
    private const byte Sync = 0x05, StatusRegister = 111;
    private readonly List<byte> _heard = [];

    public Dictionary<byte, uint> Registers { get; } = [];

    public uint Status { get; set; }

    public bool IsSilent { get; set; }

    /// <summary>Takes what came and gives what it says to it.</summary>
    public byte[] Answer(IEnumerable<byte> asked)
    {
        _heard.AddRange(asked);
        var said = new List<byte>();
        while (_heard.Count >= 4)
        {
            bool writes = (_heard[2] & 0x80) != 0;
            int length = writes ? 8 : 4;
            if (_heard[0] != Sync)
            {
                _heard.RemoveAt(0);
                continue;
            }

            if (_heard.Count < length) break;
            byte[] frame = [.. _heard.Take(length)];
            _heard.RemoveRange(0, length);
            if (Checksum(frame.AsSpan(0, length - 1)) != frame[^1] || IsSilent) continue;
            if (writes) Registers[(byte)(frame[2] & 0x7F)] = BinaryPrimitives.ReadUInt32BigEndian(frame.AsSpan(3));
            else said.AddRange(Telling(frame[2]));
        }

        return [.. said];
    }

    private byte[] Telling(byte register)
    {
        var frame = new byte[8];
        (frame[0], frame[1], frame[2]) = (Sync, 0xFF, register);
        BinaryPrimitives.WriteUInt32BigEndian(frame.AsSpan(3), register == StatusRegister ? Status : Registers.GetValueOrDefault(register));
        frame[7] = Checksum(frame.AsSpan(0, 7));
        return frame;
    }

    private static byte Checksum(ReadOnlySpan<byte> bytes)
    {
        byte crc = 0;
        foreach (byte b in bytes)
        {
            crc ^= b;
            for (int bit = 0; bit < 8; bit++) crc = (byte)((crc & 0x80) != 0 ? (crc << 1) ^ 0x07 : crc << 1);
        }

        return crc;
    }
}
