using RigDaq.Benchmarks.Measuring;
using RigDaq.Benchmarks.Table;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Core.Trace;
using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;
using RigDaq.Tests.Shared;

namespace RigDaq.Benchmarks.SamplePath;

/// <summary>Bytes to decision on one core: frames, samples, forces, spikes, the break's detector, as a live rig joins them.</summary>
internal static class SamplePathPart
{
    private const int Samples = 2_000_000;

    // A file for the rival in Python: it takes some seconds for this.
    private const int RivalSamples = 400_000;

    // Blocks of a fast device are full; one of 320 samples/s sends eight every 25 ms.
    private const int FewABlock = 8;

    private static readonly ForceCurve Curve =
        new([WorkshopCalibration.NewtonsPerCount, 1e-13]) { GreatestDeflectionCounts = 3e6 };

    public static IEnumerable<Measured> Measure(Bench bench)
    {
        byte[] full = WireBytes.Make(Samples, SamplesMessage.CountMax);
        byte[] few = WireBytes.Make(Samples, FewABlock);
        byte[][] payloads = Payloads(full);
        string file = Path.Combine(bench.Scratch, "wire.bytes");
        File.WriteAllBytes(file, WireBytes.Make(RivalSamples, SamplesMessage.CountMax));
        IReadOnlyDictionary<string, double> python = Rivals.Ask(Rivals.Python, bench.Tool("sample_path.py"), file);

        double checksum = Rate(Cost.Of(() => CheckOnly(payloads)));
        double decoded = Rate(Cost.Of(() => Decode(full)));
        Cost path = Cost.Of(() => Decide(full));
        yield return new Measured("samples.decode", "bytes to samples: unpacked, checked, decoded", decoded / 1e6, "M samples/s a core")
        {
            IsMoreBetter = true,
            Rivals = [new Rival("the checksum alone", checksum / 1e6), .. Python("memory"), .. Python("serial")],
            Limit = "the frames' bytes are gone through three times: unstuffed, checked, decoded",
        };
        yield return new Measured("samples.path", "bytes to decision: decoded, calibrated, despiked, detected", Rate(path) / 1e6,
            "M samples/s a core")
        {
            IsMoreBetter = true,
            Aim = 20,
            Rivals = [new Rival("the checksum alone", checksum / 1e6), .. Python("memory"), .. Python("serial")],
            Limit = "the despiker's queue and the detector's branches, a sample at a time",
        };
        yield return new Measured("samples.path8", "the same, eight samples a block", Rate(Cost.Of(() => Decide(few))) / 1e6,
            "M samples/s a core")
        { IsMoreBetter = true, Limit = "the head of 34 bytes that comes with eight samples of 5" };
        yield return new Measured("samples.bytes", "allocated on that way, detector and decoder themselves left out",
            AllocatedASample(full), "bytes a sample")
        { Aim = 0.001, Limit = "nothing is allocated a sample" };

        IEnumerable<Rival> Python(string way) => python.TryGetValue(way, out double rate)
            ? [new Rival(way == "serial" ? "pyserial and numpy, through a pty" : "Python and numpy, in memory", rate / 1e6)] : [];
    }

    private static double Rate(Cost cost) => Samples / cost.ProcessorSeconds;

    private static byte[][] Payloads(byte[] wire)
    {
        var decoder = new FrameDecoder();
        var payloads = new List<byte[]>();
        ReadOnlySpan<byte> rest = wire;
        while (decoder.TryRead(ref rest, out ReadOnlySpan<byte> payload)) payloads.Add(payload.ToArray());
        return [.. payloads];
    }

    private static void CheckOnly(byte[][] payloads)
    {
        int sum = 0;
        foreach (byte[] payload in payloads) sum += Crc16.Compute(payload);
        if (sum == 0) throw new InvalidOperationException("Every checksum was nothing.");
    }

    private static void Decode(byte[] wire)
    {
        var decoder = new FrameDecoder();
        Span<int> counts = stackalloc int[SamplesMessage.CountMax], steps = stackalloc int[SamplesMessage.CountMax];
        int samples = 0;
        ReadOnlySpan<byte> rest = wire;
        while (decoder.TryRead(ref rest, out ReadOnlySpan<byte> payload))
        {
            if (SamplesMessage.TryRead(payload, out SamplesMessage message, counts, steps)) samples += message.Count;
        }

        if (samples != Samples) throw new InvalidOperationException($"{samples} samples came out.");
    }

    private static void Decide(byte[] wire) => new Way().Take(wire);

    private static double AllocatedASample(byte[] wire)
    {
        var way = new Way();
        way.Take(wire);
        way.Renew();
        long before = GC.GetAllocatedBytesForCurrentThread();
        way.Take(wire);
        return (GC.GetAllocatedBytesForCurrentThread() - before) / (double)Samples;
    }

    /// <summary>What a live rig keeps for its samples.</summary>
    private sealed class Way
    {
        private readonly FrameDecoder _decoder = new();
        private readonly int[] _counts = new int[SamplesMessage.CountMax];
        private readonly int[] _steps = new int[SamplesMessage.CountMax];
        private Despiker _despiker = new(30);
        private BreakDetector _detector = new(new DetectionSettings(), 30 * WorkshopCalibration.NewtonsPerCount);

        public void Renew()
        {
            _despiker = new Despiker(30);
            _detector = new BreakDetector(new DetectionSettings(), 30 * WorkshopCalibration.NewtonsPerCount);
        }

        public void Take(byte[] wire)
        {
            ReadOnlySpan<byte> rest = wire;
            while (_decoder.TryRead(ref rest, out ReadOnlySpan<byte> payload))
            {
                if (!SamplesMessage.TryRead(payload, out SamplesMessage message, _counts, _steps)) continue;
                for (int i = 0; i < message.Count; i++)
                {
                    // Stamps as a session unwraps them.
                    double seconds = ((long)(message.FirstNumber + i) * WireBytes.PeriodNanoseconds) * 1e-9;
                    _despiker.Add(seconds, _counts[i]);
                    while (_despiker.TryTake(out DespikedSample sample))
                    {
                        if (!sample.IsSpike)
                            _detector.Add(sample.TimeSeconds, Curve.Newtons(sample.Value - WorkshopCalibration.ZeroCounts));
                    }
                }
            }

            if (_detector.State != DetectorState.Loading) throw new InvalidOperationException($"The pull is {_detector.State}.");
        }
    }
}
