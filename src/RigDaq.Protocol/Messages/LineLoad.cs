using RigDaq.Protocol.Frames;

namespace RigDaq.Protocol.Messages;

/// <summary>What blocks of samples and of channels ask of the line (PROTOCOL.md, 13).</summary>
public static class LineLoad
{
    /// <summary>The share of the line that blocks should leave to everything else.</summary>
    public const double ShareMax = 0.8;

    /// <summary>Bit times of a byte on a line whose transmitter leaves one between bytes: the pessimistic pace.</summary>
    public const double BitTimes = 11;

    /// <summary>Blocks go out at least so often, whatever they hold.</summary>
    private const double BlocksPerSecondMin = 20;

    /// <summary>Bytes of a frame besides its payload.</summary>
    private const int Around = FrameLimits.WireBytesMax - FrameLimits.PayloadBytesMax;

    /// <summary>Bytes a second of the samples.</summary>
    /// <param name="rateHertz">Samples a second.</param>
    public static double SamplesBytesPerSecond(double rateHertz) =>
        Of(rateHertz, SamplesMessage.HeadBytes, SamplesMessage.SampleBytes, SamplesMessage.CountMax, BlocksPerSecondMin / 2);

    /// <summary>Bytes a second of a channel.</summary>
    /// <param name="rateHertz">Samples a second.</param>
    /// <param name="divider">Of the channel.</param>
    public static double ChannelBytesPerSecond(double rateHertz, int divider) =>
        Of(rateHertz / divider, ChannelSamplesMessage.HeadBytes, ChannelSamplesMessage.ValueBytes, ChannelSamplesMessage.CountMax, 0);

    /// <summary>What a line carries in a second by its baud rate, at the pessimistic pace.</summary>
    /// <param name="baud">Bits a second.</param>
    public static double BytesPerSecond(int baud) => baud / BitTimes;

    private static double Of(double rate, int head, int each, int most, double blocksMin)
    {
        double blocks = Math.Max(Math.Max(Math.Min(rate, BlocksPerSecondMin), rate / most), blocksMin);
        return (blocks * (head + Around)) + (rate * each);
    }
}
