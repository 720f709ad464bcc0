using System.Buffers.Binary;
using RigDaq.Core.Signal;
using RigDaq.Rig.Control;

namespace RigDaq.Web.Live;

/// <summary>
/// A live block as bytes for the page, little-endian. Head of 32 bytes: u32 device start, u32 number of samples, f64 time of the
/// first sample and f64 spacing in seconds, f32 position in mm (NaN: not known), u32 bit 0 = counts instead of newtons, the other
/// bits samples lost before; then one f32 a sample. Several blocks may follow each other in one message.
/// </summary>
internal static class LiveFrame
{
    internal const int HeadBytes = 32;

    private const double SecondsPerMicrosecond = 1e-6;

    internal static int Length(LiveBlock block) => HeadBytes + (block.Samples.Count * sizeof(float));

    /// <summary>Writes one block and gives the number of bytes.</summary>
    internal static int Write(LiveBlock block, Span<byte> to)
    {
        IReadOnlyList<RawSample> samples = block.Samples;
        int count = samples.Count;
        double first = count > 0 ? samples[0].DeviceMicroseconds * SecondsPerMicrosecond : 0;
        double last = count > 0 ? samples[count - 1].DeviceMicroseconds * SecondsPerMicrosecond : 0;
        bool isCounts = block.Newtons is null;
        BinaryPrimitives.WriteUInt32LittleEndian(to, block.BootNumber);
        BinaryPrimitives.WriteInt32LittleEndian(to[4..], count);
        BinaryPrimitives.WriteDoubleLittleEndian(to[8..], first);
        BinaryPrimitives.WriteDoubleLittleEndian(to[16..], count > 1 ? (last - first) / (count - 1) : 0);
        float position = block.PositionMillimetres is { Length: > 0 } p ? (float)p[^1] : float.NaN;
        BinaryPrimitives.WriteSingleLittleEndian(to[24..], position);
        uint lost = (uint)Math.Clamp(block.LostBefore, 0, int.MaxValue);
        BinaryPrimitives.WriteUInt32LittleEndian(to[28..], (lost << 1) | (isCounts ? 1u : 0u));
        for (int i = 0; i < count; i++)
        {
            float value = isCounts ? samples[i].Counts : (float)block.Newtons![i];
            BinaryPrimitives.WriteSingleLittleEndian(to[(HeadBytes + (i * sizeof(float)))..], value);
        }

        return Length(block);
    }
}
