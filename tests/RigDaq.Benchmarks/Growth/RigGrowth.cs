using RigDaq.App.Rigs;
using RigDaq.Benchmarks.Measuring;
using RigDaq.Rig.Control;
using RigDaq.Rig.Links;
using RigDaq.Virtual;
using RigDaq.Virtual.Machine;

namespace RigDaq.Benchmarks.Growth;

/// <summary>What more rigs in one process take of the processor and of memory, and more who look on at one rig.</summary>
internal static class RigGrowth
{
    private const double SampleRateHertz = 1_000;
    private static readonly int[] Rigs = [1, 2, 4, 8];
    private static readonly int[] Subscribers = [8, 32, 128, 512];
    private static readonly TimeSpan Watched = TimeSpan.FromSeconds(3);

    public static GrowthSeries[] Measure()
    {
        (double Processor, double Bytes)[] rigs = [.. Rigs.Select(count => CostOf(count, 0))];
        (double Processor, double Bytes)[] lookers = [.. Subscribers.Select(count => CostOf(1, count))];
        return
        [
            Series("processor time with rigs (a virtual device each)", "rigs.time", Rigs, rigs.Select(cost => cost.Processor)),
            Series("memory with rigs", "rigs.memory", Rigs, rigs.Select(cost => cost.Bytes)),
            Series("processor time with subscribers of a rig", "subscribers", Subscribers, lookers.Select(cost => cost.Processor)),
        ];
    }

    private static (double Processor, double Bytes) CostOf(int rigs, int subscribers)
        => CostOfAsync(rigs, subscribers).GetAwaiter().GetResult();

    private static async Task<(double Processor, double Bytes)> CostOfAsync(int rigs, int subscribers)
    {
        long before = GC.GetTotalMemory(forceFullCollection: true);
        var devices = new List<VirtualRig>();
        var controllers = new List<RigController>();
        var looking = new List<LiveSubscription>();
        try
        {
            for (int i = 0; i < rigs; i++)
            {
                var device = new VirtualRig(new VirtualRigOptions { Seed = (ulong)i + 1, SampleRateHertz = SampleRateHertz },
                    TimeProvider.System);
                devices.Add(device);
                RigController controller = RigFactory.Create(
                    new RigSetup { Link = new PipeRigLinkOpener("virtual rig", device.ConnectInProcess) });
                controllers.Add(controller);
                controller.Start();
                for (int k = 0; k < subscribers; k++) looking.Add(controller.SubscribeLive());
            }

            Task[] readers = [.. looking.Select(ReadAsync)];
            // Rigs run in wall time: until they are up, and then for as long as they are watched.
            await Task.Delay(Watched);
            Cost cost = Cost.Once(() => Thread.Sleep(Watched)); // Rigs run in wall time.
            long after = GC.GetTotalMemory(forceFullCollection: true);
            foreach (LiveSubscription subscription in looking) subscription.Dispose();
            await Task.WhenAll(readers);
            return (cost.ProcessorSeconds, after - before);
        }
        finally
        {
            foreach (RigController controller in controllers) await controller.DisposeAsync();
            foreach (VirtualRig device in devices) await device.DisposeAsync();
        }
    }

    private static async Task ReadAsync(LiveSubscription subscription)
    {
        long samples = 0;
        await foreach (LiveBlock block in subscription.Blocks.ReadAllAsync()) samples += block.Samples.Count;
    }

    private static GrowthSeries Series(string name, string key, int[] sizes, IEnumerable<double> costs)
        => new(name, key, [.. sizes.Zip(costs, (size, cost) => new GrowthPoint(size, cost))]);
}
