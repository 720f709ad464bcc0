using System.Collections.Concurrent;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.App.Input;
using RigDaq.Archive;
using RigDaq.Core.Safety;
using RigDaq.Daemon.Commands;
using RigDaq.Daemon.Text;
using RigDaq.EndToEnd.Tests.Support;
using RigDaq.Rig.Links;
using RigDaq.Text;
using RigDaq.Virtual;
using RigDaq.Virtual.Machine;

namespace RigDaq.EndToEnd.Tests.Machine;

/// <summary><c>rigdaq first-start</c> on the virtual rig, ten times as fast as its clock; waits are in wall time, for two programs go on by
/// themselves.</summary>
public sealed class FirstStartOnTheVirtualRigTest
{
    private static readonly VirtualRigOptions Built = new() { Seed = 3, TimeScale = 10, StartMillimetres = 5, HasFeeder = false };

    [Fact]
    public async Task A_good_rig_passes_and_every_step_is_kept()
    {
        using var bench = new Bench(Built);
        FirstStartTest test = await bench.LeadAsync();
        Assert.True(test.HasPassed(), bench.Words);
        Assert.Equal(Enum.GetValues<FirstStartStep>(), test.Findings.Select(f => f.Step));
    }

    [Fact]
    public async Task A_cell_that_is_wired_backwards_is_found_and_nothing_moves()
    {
        using var bench = new Bench(Built with { IsCellWiredBackwards = true });
        FirstStartTest test = await bench.LeadAsync();
        Assert.Equal((FirstStartStep.Converter, FirstStartOutcome.Failed), test.Findings.Where(f => f.Outcome == FirstStartOutcome.Failed)
            .Select(f => (f.Step, f.Outcome)).Single());
        Assert.Equal(5, bench.Rig.CrossheadMillimetres);
    }

    [Fact]
    public async Task Limits_whose_wires_are_swapped_are_found_before_anything_moves()
    {
        using var bench = new Bench(Built) { LimitsAreSwapped = true };
        FirstStartTest test = await bench.LeadAsync();
        Assert.Equal([FirstStartStep.LowerLimit, FirstStartStep.UpperLimit], test.Findings.Where(f => f.Outcome == FirstStartOutcome.Failed)
            .Select(f => f.Step));
        Assert.Equal(5, bench.Rig.CrossheadMillimetres);
    }

    [Fact]
    public async Task What_the_device_does_not_have_is_not_asked_for()
    {
        using var bench = new Bench(Built with { HasGuard = false, HasHoming = false });
        FirstStartTest test = await bench.LeadAsync();
        Assert.True(test.HasPassed(), bench.Words);
        Assert.Equal([FirstStartStep.Guard, FirstStartStep.GuardInMotion, FirstStartStep.Home],
            test.Findings.Where(f => f.Outcome == FirstStartOutcome.NotThere).Select(f => f.Step));
    }

    [Fact]
    public async Task A_person_who_stops_it_stops_it()
    {
        using var bench = new Bench(Built) { TypesStopWhileItCreeps = true };
        FirstStartTest test = await bench.LeadAsync();
        Assert.Equal(FirstStartOutcome.Failed, Assert.Single(test.Findings, f => f.Step == FirstStartStep.Apart).Outcome);
        Assert.False(bench.Rig.IsMotorMoving);
        Assert.InRange(bench.Rig.CrossheadMillimetres, 5, 6);
    }

    [Fact]
    public async Task A_device_without_a_motor_has_nothing_to_start()
    {
        using var bench = new Bench(Built with { HasMotion = false });
        CannotBeDoneException refused = await Assert.ThrowsAsync<CannotBeDoneException>(bench.LeadAsync);
        Assert.Contains("announces no motion", refused.Message, StringComparison.Ordinal);
    }

    private sealed class Bench : TextReader
    {
        private readonly TemporaryFolder _folder = new();
        private readonly BlockingCollection<string> _typed = [];
        private readonly ConcurrentQueue<string> _said = new();
        private readonly RigArchive _archive;
        private double _from;
        private volatile bool _creeps;

        public Bench(VirtualRigOptions options)
        {
            Rig = new VirtualRig(options, TimeProvider.System);
            _archive = new RigArchive(_folder.Path, TimeProvider.System, NullLogger.Instance);
        }

        public VirtualRig Rig { get; }

        public bool LimitsAreSwapped { get; init; }

        public bool TypesStopWhileItCreeps { get; init; }

        public string Words => string.Join('\n', _said);

        public async Task<FirstStartTest> LeadAsync()
        {
            FirstStartTest? test = await FirstStartCommand.RunAsync(
                new PipeRigLinkOpener("the virtual rig", Rig.ConnectInProcess), _archive, this, Hear, TimeProvider.System,
                    TestContext.Current.CancellationToken);
            TestContext.Current.TestOutputHelper?.WriteLine(Words);
            Assert.NotNull(test);
            Assert.Equal(test.Findings, Assert.Single(_archive.Diary.FirstStarts(test.DeviceId)).Findings);
            return test;
        }

        public override string? ReadLine() => _typed.TryTake(out string? line, Timeout.Infinite) ? line : null;

        protected override void Dispose(bool disposing)
        {
            _typed.CompleteAdding();
            Rig.DisposeAsync().AsTask().GetAwaiter().GetResult();
            _archive.Dispose();
            _folder.Dispose();
            base.Dispose(disposing);
        }

        private void Hear(FirstStartAct act, Sentence words)
        {
            _said.Enqueue(words);
            switch (act)
            {
                case FirstStartAct.None: break;
                case FirstStartAct.Acknowledge: _typed.Add("acknowledge"); break;
                case FirstStartAct.PullOnCell: Rig.HangMass(0.5, 9.81); break;
                case FirstStartAct.LetGoOfCell: Rig.TakeMassOff(); break;
                case FirstStartAct.CloseGuard: Rig.CloseGuard(); break;
                case FirstStartAct.ReleaseStop: Rig.ReleaseEmergencyStop(); break;
                case FirstStartAct.LetGoOfLower: Rig.LetGoOfLimit(upper: LimitsAreSwapped); break;
                case FirstStartAct.LetGoOfUpper: Rig.LetGoOfLimit(upper: !LimitsAreSwapped); break;
                case FirstStartAct.Begin:
                    _from = Rig.CrossheadMillimetres;
                    _creeps = true;
                    _typed.Add("go");
                    if (TypesStopWhileItCreeps) _ = WhenItMovesAsync(() => _typed.Add("stop"));
                    break;
                case FirstStartAct.WhichWay: _typed.Add(Rig.CrossheadMillimetres > _from ? "apart" : "together"); break;
                case FirstStartAct.PowerGone: _typed.Add(Rig.IsMotorPowered ? "it holds" : "gone"); break;
                default: _ = WhenItMovesAsync(() => Work(act)); break;
            }
        }

        private void Work(FirstStartAct act)
        {
            switch (act)
            {
                case FirstStartAct.OpenGuard: Rig.OpenGuard(); break;
                case FirstStartAct.PressStop: Rig.PressEmergencyStop(); break;
                case FirstStartAct.PressLower: Rig.PressLimit(upper: LimitsAreSwapped); break;
                case FirstStartAct.PressUpper: Rig.PressLimit(upper: !LimitsAreSwapped); break;
                default: throw new InvalidOperationException($"{act}");
            }
        }

        /// <summary>At once while it stands for good; in motion a little later. Looked at in wall time, for the rig goes on by
        /// itself.</summary>
        private async Task WhenItMovesAsync(Action act)
        {
            bool creeps = _creeps;
            bool moves() => Rig.IsMotorMoving && Math.Abs(Rig.CrossheadMillimetres - _from) > 0.05;
            for (int i = 0; creeps && i < 2000 && !moves(); i++) await Task.Delay(5);
            if (!creeps) await Task.Delay(20);
            act();
        }
    }
}
