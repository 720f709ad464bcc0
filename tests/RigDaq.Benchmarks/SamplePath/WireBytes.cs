using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;
using RigDaq.Tests.Shared;

namespace RigDaq.Benchmarks.SamplePath;

/// <summary>What a device would send: blocks of samples of one long pull that is still being loaded.</summary>
internal static class WireBytes
{
    /// <summary>The device's period.</summary>
    public const uint PeriodNanoseconds = 3_125_000;

    /// <summary>Frames of so many samples, so many of them a block.</summary>
    public static byte[] Make(int samples, int samplesABlock)
    {
        var random = new Random(5);
        var state = new DeviceState(1, InputStates.ConverterAlive, MotionState.Moving, StateBits.Homed, DeviceFaults.None, 1, 1, 0);
        var bytes = new List<byte>(samples * 8);
        var counts = new int[samplesABlock];
        var steps = new int[samplesABlock];
        var payload = new byte[FrameLimits.PayloadBytesMax];
        var frame = new byte[FrameLimits.WireBytesMax];
        for (int at = 0; at + samplesABlock <= samples; at += samplesABlock)
        {
            for (int i = 0; i < samplesABlock; i++)
            {
                double rising = 4e6 * (at + i) / samples;
                counts[i] = (int)(WorkshopCalibration.ZeroCounts + rising + (30 * WorkshopCalibration.Normal(random)));
                steps[i] = 2 * (at + i);
            }

            uint stamp = (uint)(at * (PeriodNanoseconds / 1000L));
            var message = new SamplesMessage(state, (uint)at, stamp, PeriodNanoseconds, steps[0], (byte)samplesABlock);
            int length = message.Write(payload, counts, steps);
            bytes.AddRange(frame.AsSpan(0, FrameEncoder.Encode(payload.AsSpan(0, length), frame)));
        }

        return [.. bytes];
    }
}
