using System.Collections.Concurrent;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using RigDaq.App.Rigs;
using RigDaq.Archive;
using RigDaq.Core.Safety;
using RigDaq.Core.Trace;
using RigDaq.Daemon.Commands;
using RigDaq.Daemon.Text;
using RigDaq.EndToEnd.Tests.Support;
using RigDaq.Protocol.Messages;
using RigDaq.Protocol.Tests.Firmware;
using RigDaq.Rig.Control;
using RigDaq.Rig.Links;
using RigDaq.Text;

namespace RigDaq.Firmware.Tests.LockStep;

/// <summary>
/// <c>rigdaq first-start</c> on the image that goes into the chip, in lock step: a person works its inputs, and looks at the screw itself.
/// Which mistakes of building are common is common practice, no source.
/// </summary>
public sealed class FirstStartOnTheImageTest
{
    private static readonly TimeSpan RunMax = TimeSpan.FromMinutes(3);

    [Fact]
    public async Task A_rig_that_is_built_right_passes_every_step_and_the_record_is_kept()
    {
        await using Bench bench = await Bench.StartAsync("lower -2000");
        FirstStartTestRecord kept = await bench.LeadAsync();
        Assert.True(kept.Test.HasPassed(), kept.Words);
        Assert.Equal(FirstStartOutcome.Passed, kept.Of(FirstStartStep.Home).Outcome);
        Assert.Single(bench.Archive.Diary.EmergencyStopTests(kept.Test.DeviceId)); // the stop's test of the day as well
        Assert.True(bench.Rig.Snapshot.Bits.HasFlag(StateBits.Homed));
    }

    [Theory]
    [InlineData("lower -2000")] // in mid-travel: a person's eye tells
    [InlineData("lower -200")] // half a millimetre above the lower switch: it closes behind the motion, and tells by itself
    public async Task Swapped_leads_of_the_motor_are_found_in_the_first_millimetre_and_nothing_moves_after(string where)
    {
        await using Bench bench = await Bench.StartAsync(where, "swapped 1");
        FirstStartTestRecord kept = await bench.LeadAsync();
        Assert.Equal(FirstStartOutcome.Failed, kept.Of(FirstStartStep.Apart).Outcome);
        Assert.Contains("the wrong way", kept.Of(FirstStartStep.Apart).Detail, StringComparison.Ordinal);
        Assert.All(Enum.GetValues<FirstStartStep>().Where(s => s > FirstStartStep.Apart),
            s => Assert.Equal(FirstStartOutcome.LeftOut, kept.Of(s).Outcome));
        int position = (await bench.Board.Look()).GetProperty("position").GetInt32();
        Assert.InRange(position, -440, -1); // 1 mm are 400 steps, and a ramp's end
    }

    [Fact]
    public async Task A_stop_that_leaves_the_supply_on_fails_by_the_persons_word()
    {
        await using Bench bench = await Bench.StartAsync("lower -2000");
        bench.PowerIsGone = false;
        FirstStartTestRecord kept = await bench.LeadAsync();
        Assert.Equal(FirstStartOutcome.Failed, kept.Of(FirstStartStep.EmergencyStopInMotion).Outcome);
        Assert.Equal(FirstStartOutcome.LeftOut, kept.Of(FirstStartStep.Home).Outcome);
        Assert.Empty(bench.Archive.Diary.EmergencyStopTests(kept.Test.DeviceId));
    }

    private sealed record FirstStartTestRecord(Core.Safety.FirstStartTest Test, string Words)
    {
        public FirstStartFinding Of(FirstStartStep step) => Assert.Single(Test.Findings, f => f.Step == step);
    }

    private sealed class Bench : TextReader, IAsyncDisposable
    {
        private readonly TemporaryFolder _folder = new();
        private readonly FakeTimeProvider _time = new(new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero));
        private readonly BlockingCollection<string> _typed = [];
        private readonly ConcurrentQueue<FirstStartAct> _asked = new();
        private readonly ConcurrentQueue<string> _said = new();
        private readonly LockStepCable _cable;
        private int _creepsFrom;
        private bool _creeps;

        private Bench(ILockStepBoard board)
        {
            Board = board;
            _cable = new LockStepCable(board, _time);
            Archive = new RigArchive(_folder.Path, _time, NullLogger.Instance);
            var idle = new NullPullStore();
            Rig = new RigController(
                new RigServices
                {
                    Link = new PipeRigLinkOpener("the board", _cable.Connect, _time),
                    CreateDetector = (settings, noise) => new BreakDetector(settings, noise),
                    Captures = idle,
                    Recorder = idle,
                    Safety = Archive.Diary,
                    Time = _time,
                },
                new RigControllerOptions());
        }

        public ILockStepBoard Board { get; }

        public RigArchive Archive { get; }

        public RigController Rig { get; }

        public bool PowerIsGone { get; set; } = true;

        public static async Task<Bench> StartAsync(params string[] world)
        {
            SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
            foreach (string command in world) await board.Ask(command);
            return new Bench(board);
        }

        /// <summary>From the first line to the last, on the one clock.</summary>
        public async Task<FirstStartTestRecord> LeadAsync()
        {
            Rig.Start();
            Task<Core.Safety.FirstStartTest?> leading = FirstStartCommand.LeadAsync(Rig, Archive.Diary, this, Hear, _time,
                TestContext.Current.CancellationToken);
            for (TimeSpan waited = TimeSpan.Zero; !leading.IsCompleted; waited += LockStepCable.Slice)
            {
                string words = string.Join('\n', _said);
                Assert.True(waited < RunMax,
                    $"It did not end: {Rig.Snapshot.Motion} {Rig.Snapshot.Faults} {Rig.Snapshot.Inputs} at {Rig.Snapshot.PositionMillimetres} mm\n{words}");
                await ActAsync();
                await _cable.Step(Rig);
                await Task.Delay(1, TestContext.Current.CancellationToken); // the one who leads is on another thread
            }

            Core.Safety.FirstStartTest? test = await leading;
            string said = string.Join('\n', _said);
            TestContext.Current.TestOutputHelper?.WriteLine(said);
            Assert.NotNull(test);
            Core.Safety.FirstStartTest kept = Assert.Single(Archive.Diary.FirstStarts(test.DeviceId));
            Assert.Equal(test.Findings, kept.Findings);
            return new FirstStartTestRecord(kept, said);
        }

        public override string? ReadLine() => _typed.TryTake(out string? line, Timeout.Infinite) ? line : null;

        public async ValueTask DisposeAsync()
        {
            _typed.CompleteAdding();
            Task ending = Rig.DisposeAsync().AsTask();
            for (int i = 0; i < 1000 && !ending.IsCompleted; i++)
            {
                await _cable.StepAtEnd();
                await Task.WhenAny(ending, Task.Delay(2)); // The controller ends on a thread of its own.
            }

            await ending;
            await Board.DisposeAsync();
            Archive.Dispose();
            _folder.Dispose();
            base.Dispose();
        }

        private void Hear(FirstStartAct act, Sentence words)
        {
            _said.Enqueue(words);
            if (act != FirstStartAct.None) _asked.Enqueue(act);
        }

        private async Task ActAsync()
        {
            if (!_asked.TryPeek(out FirstStartAct act)) return;
            int position = (await Board.Look()).GetProperty("position").GetInt32();
            // What is to be done in motion is done a tenth of a millimetre later.
            if (_creeps && act != FirstStartAct.WhichWay && Math.Abs(position - _creepsFrom) < 40) return;
            _asked.TryDequeue(out _);
            _creeps = act == FirstStartAct.Begin;
            switch (act)
            {
                case FirstStartAct.Acknowledge: _typed.Add("acknowledge"); break;
                case FirstStartAct.PullOnCell: await Board.Ask("weight 5"); break;
                case FirstStartAct.LetGoOfCell: await Board.Ask("weight 0"); break;
                case FirstStartAct.OpenGuard: await Board.Ask("guard 0"); break;
                case FirstStartAct.CloseGuard: await Board.Ask("guard 1"); break;
                case FirstStartAct.PressStop: await Board.Ask("estop 1"); break;
                case FirstStartAct.ReleaseStop: await Board.Ask("estop 0"); break;
                case FirstStartAct.PressLower: await Board.Ask("lower 1000000"); break;
                case FirstStartAct.LetGoOfLower: await Board.Ask("lower -2000"); break;
                case FirstStartAct.PressUpper: await Board.Ask("upper 1"); break;
                case FirstStartAct.LetGoOfUpper: await Board.Ask("upper 0"); break;
                case FirstStartAct.Begin: (_creepsFrom, _) = (position, _typed.TryAdd("go")); break;
                case FirstStartAct.WhichWay:
                    _typed.Add(position > _creepsFrom ? "apart" : position < _creepsFrom ? "together" : "none");
                    break;
                case FirstStartAct.PowerGone: _typed.Add(PowerIsGone ? "gone" : "it holds"); break;
                default: throw new InvalidOperationException($"{act}");
            }
        }
    }
}
