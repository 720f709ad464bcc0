using System.Diagnostics;
using System.IO.Ports;
using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;
using RigDaq.Virtual.Machine;

namespace RigDaq.Virtual.Tests.Lines;

/// <summary>
/// The same wire through the kernel, opened by System.IO.Ports. These tests take wall time: a serial port cannot be stepped.
/// </summary>
public class PtyTest
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(10);

    private static bool IsSupported => OperatingSystem.IsLinux() || OperatingSystem.IsMacOS();

    [Fact]
    public async Task A_serial_port_opens_the_slave_and_reads_hello_and_samples()
    {
        Assert.SkipUnless(IsSupported, "Pseudo-terminals need Linux or macOS.");
        await using var rig = new VirtualRig(new VirtualRigOptions { SampleRateHertz = 1000, Seed = 7 }, TimeProvider.System);
        using var port = new SerialPort(rig.OpenPty(), 250_000);
        port.Open();
        var client = new SerialClient(port);
        client.Send(new AskHelloCommand(1).Write);
        client.ReadUntil(() => client.Hello is not null, Patience);
        client.Send(new StreamCommand(2, true, 0).Write);
        client.ReadUntil(() => client.Counts.Count >= 500, Patience);

        Assert.Equal(rig.Options.DeviceId, client.Hello!.Value.DeviceId);
        Assert.Equal(0, client.FramesBad);
        Assert.Equal(0, client.NumbersMissing);
        port.BaseStream.Dispose();
    }

    [Fact]
    public async Task A_port_that_is_opened_again_finds_the_same_start_of_the_device()
    {
        Assert.SkipUnless(IsSupported, "Pseudo-terminals need Linux or macOS.");
        await using var rig = new VirtualRig(new VirtualRigOptions(), TimeProvider.System);
        string path = rig.OpenPty();
        for (ushort round = 1; round <= 3; round++)
        {
            using var port = new SerialPort(path, 250_000);
            port.Open();
            var client = new SerialClient(port);
            client.Send(new AskHelloCommand(round).Write);
            client.ReadUntil(() => client.Hello is not null, Patience);
            Assert.Equal(rig.BootNumber, client.Hello!.Value.BootNumber);
            port.BaseStream.Dispose();
        }
    }

    [Fact]
    public async Task A_pulled_cable_ends_the_read_and_the_same_name_comes_back()
    {
        Assert.SkipUnless(IsSupported, "Pseudo-terminals need Linux or macOS.");
        string link = Path.Combine(Path.GetTempPath(), $"rigdaq-virtual-{Guid.NewGuid():N}");
        await using var rig = new VirtualRig(new VirtualRigOptions(), TimeProvider.System);
        Assert.Equal(link, rig.OpenPty(link));
        using (var port = new SerialPort(link, 250_000))
        {
            port.Open();
            var client = new SerialClient(port);
            client.Send(new AskHelloCommand(1).Write);
            client.ReadUntil(() => client.Hello is not null, Patience);
            rig.Inject(new VirtualFault.Unplug(TimeSpan.FromMilliseconds(200)));
            Assert.False(File.Exists(link));
            // What a vanished device does to a read in System.IO.Ports 11 (measured; the object is of no use afterwards).
            Assert.ThrowsAny<Exception>(() => client.ReadUntil(() => false, Patience));
            port.BaseStream.Dispose();
        }

        // Wall time: the virtual rig plugs itself in again by its own clock, and a path cannot be waited for otherwise.
        var waited = Stopwatch.StartNew();
        while (!File.Exists(link) && waited.Elapsed < Patience) await Task.Delay(20, TestContext.Current.CancellationToken);
        using var again = new SerialPort(link, 250_000);
        again.Open();
        var second = new SerialClient(again);
        second.Send(new AskHelloCommand(2).Write);
        second.ReadUntil(() => second.Hello is not null, Patience);
        Assert.Equal(rig.BootNumber, second.Hello!.Value.BootNumber);
        again.BaseStream.Dispose();
        await rig.DisposeAsync();
        Assert.Null(new FileInfo(link).LinkTarget);
    }

    [Fact]
    public async Task The_same_seed_breaks_at_the_same_force_through_the_kernel_as_in_process()
    {
        Assert.SkipUnless(IsSupported, "Pseudo-terminals need Linux or macOS.");
        var group = new Core.Specimens.GroupKey("Alder", "fan off", 220);
        VirtualSpecimen Drawn()
        {
            var population = new VirtualPopulation(21, [new VirtualMaterial { Name = "Alder", MeanMegapascals = 30 }]);
            return population.Specimen(group, "A220", "A220-01", population.Section(group, "A220", "A220-01", new VirtualSectioning()));
        }

        SteppedHost host = new SteppedHost(new VirtualRigOptions { Seed = 21 }).Prepare();
        host.Rig.QueueSpecimens([Drawn()]);
        host.Feed();
        Assert.True(host.RunUntil(() => host.Rig.Motion == MotionState.Still, 10));
        host.Move(0.5);
        Assert.True(host.RunUntil(() => host.Rig.PullsMade == 1, 10));

        await using var rig = new VirtualRig(new VirtualRigOptions { Seed = 21, TimeScale = 20 }, TimeProvider.System);
        rig.QueueSpecimens([Drawn()]);
        using var port = new SerialPort(rig.OpenPty(), 250_000);
        port.Open();
        Assert.Equal(port.PortName, rig.PtyPath);
        var client = new SerialClient(port);
        client.Send(new AskHelloCommand(1).Write);
        client.ReadUntil(() => client.Hello is not null, Patience);
        HelloMessage hello = client.Hello!.Value;
        client.KeepsAlive = true;
        client.Send(new SetLimitsCommand(
            2, 9, hello.HardForceCountsMin, hello.HardForceCountsMax, hello.HardTravelStepsMin, hello.HardTravelStepsMax, 8_000, 64_000,
                60_000).Write);
        client.Send(new StreamCommand(3, true, 0).Write);
        client.ReadUntil(() => client.Counts.Count > 0, Patience);
        client.Send(new FeedCommand(4, hello.BootNumber, 9).Write);
        client.ReadUntil(() => rig.SpecimenInGrips is not null && rig.Motion == MotionState.Still, Patience);
        client.Send(new MoveCommand(5, hello.BootNumber, 9, MoveKind.Speed, 800, 32_000, 0).Write);
        client.ReadUntil(() => rig.PullsMade == 1, Patience);
        port.BaseStream.Dispose();

        Assert.Equal(host.Rig.Breaks[0].Specimen, rig.Breaks[0].Specimen);
        Assert.Equal(host.Rig.Breaks[0].PeakForceNewtons, rig.Breaks[0].PeakForceNewtons, 1e-9);
    }

    private sealed class SerialClient(SerialPort port)
    {
        public delegate int Writing(Span<byte> payload);

        private readonly FrameDecoder _decoder = new();
        private readonly byte[] _buffer = new byte[4096];
        private uint? _next;
        private ushort _life;

        public bool KeepsAlive { get; set; }

        public HelloMessage? Hello { get; private set; }

        public List<int> Counts { get; } = [];

        public long NumbersMissing { get; private set; }

        public long FramesBad => _decoder.FramesBad;

        public void Send(Writing write)
        {
            Span<byte> payload = stackalloc byte[FrameLimits.PayloadBytesMax];
            Span<byte> frame = stackalloc byte[FrameLimits.WireBytesMax];
            port.BaseStream.Write(frame[..FrameEncoder.Encode(payload[..write(payload)], frame)]);
        }

        public void ReadUntil(Func<bool> done, TimeSpan most)
        {
            var clock = Stopwatch.StartNew();
            while (!done() && clock.Elapsed < most)
            {
                // The state comes every 100 ms at least, so this does too.
                if (KeepsAlive) Send(new KeepAliveMessage(Hello!.Value.BootNumber, ++_life).Write);
                int length = port.BaseStream.Read(_buffer, 0, _buffer.Length);
                ReadOnlySpan<byte> bytes = _buffer.AsSpan(0, length);
                while (_decoder.TryRead(ref bytes, out ReadOnlySpan<byte> payload)) Take(payload);
            }

            Assert.True(done(), "It did not come in time.");
        }

        private void Take(ReadOnlySpan<byte> payload)
        {
            Span<int> counts = stackalloc int[SamplesMessage.CountMax], steps = stackalloc int[SamplesMessage.CountMax];
            if (HelloMessage.TryRead(payload, out HelloMessage hello)) Hello = hello;
            if (!SamplesMessage.TryRead(payload, out SamplesMessage block, counts, steps) || block.Count == 0) return;
            if (_next is { } next) NumbersMissing += block.FirstNumber - next;
            _next = block.FirstNumber + block.Count;
            foreach (int value in counts[..block.Count]) Counts.Add(value);
        }
    }
}
