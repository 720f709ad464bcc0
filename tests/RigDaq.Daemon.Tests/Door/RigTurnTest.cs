using RigDaq.App.Input;
using RigDaq.Archive;
using RigDaq.Daemon.Commands;
using RigDaq.Daemon.Terminal;
using RigDaq.Rig.Control;

namespace RigDaq.Daemon.Tests.Door;

/// <summary>Two people at two terminals: the limits of one must not be taken from under the hands of the other.</summary>
public sealed class RigTurnTest
{
    [Fact]
    public async Task One_command_is_at_the_daemons_rig_at_a_time()
    {
        await using var bench = new Calibration.VirtualBench();
        using var archive = new RigArchive(bench.Folder, TimeProvider.System, TerminalLogger.Instance);
        await using RigController rig = App.Rigs.RigFactory.Create(new App.Rigs.RigSetup { Link = bench.Link, Time = TimeProvider.System });
        rig.Start();
        await RigAtHand.ReadyAsync(rig, TestContext.Current.CancellationToken);
        new CommandPlace
        {
            Answers = TextWriter.Null,
            Words = TextWriter.Null,
            Typed = TextReader.Null,
            Environment = new System.Collections.Hashtable(),
            Archive = archive,
            Rig = rig,
        }.Enter();
        await using (CommandRig first = At(bench))
        {
            Assert.Same(rig, first.Controller);
            Assert.Contains("Another command", Assert.Throws<CannotBeDoneException>(() => At(bench)).Message, StringComparison.Ordinal);
        }

        await using CommandRig next = At(bench);
        Assert.Same(rig, next.Controller);
    }

    private static CommandRig At(Calibration.VirtualBench bench) =>
        CommandRig.At(bench.Link, new RigControllerOptions(), TimeProvider.System);
}
