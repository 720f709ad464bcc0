using RigDaq.App.Checking;
using RigDaq.App.Configuration;
using RigDaq.Protocol.Conformance;
using RigDaq.Virtual;
using RigDaq.Virtual.Machine;

namespace RigDaq.Daemon.Tests.Hosting;

/// <summary><c>rigdaq check --device</c> on the virtual rig behind a pseudo-terminal.</summary>
public sealed class DeviceCheckTest
{
    [Fact]
    public async Task The_virtual_rig_conforms_to_the_wire()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Needs pseudo-terminals, which Windows has not.");
        await using var virtualRig = new VirtualRig(new VirtualRigOptions { SampleRateHertz = 80 }, TimeProvider.System);
        IReadOnlyList<ConformanceFinding> findings = await DeviceCheck.RunAsync(
            new SerialOptions { Path = virtualRig.OpenPty() }, TimeProvider.System, TestContext.Current.CancellationToken);
        Assert.True(findings.Count > 20);
        // How late a loaded test machine is says nothing about the device: cadences are held in lock step elsewhere.
        Assert.DoesNotContain(findings, f => f.Outcome == ConformanceOutcome.Fails && f.Section != 11
            && !f.Check.Contains("100 ms", StringComparison.Ordinal));
        Assert.Equal(0, virtualRig.PullsMade);
    }
}
