using RigDaq.Protocol.Messages;
using RigDaq.Virtual.Machine;
using RigDaq.Virtual.Randomness;

namespace RigDaq.Virtual.Tests.Device;

/// <summary>
/// Commands, inputs and faults in any order: whatever a host, a person and a bad line do, the rules of the device hold. A
/// failure names its seed.
/// </summary>
public class AnyOrderTest
{
    private const int Actions = 120;

    // Seeds are cheap: RIGDAQ_LONG=1 tries many more.
    private static int Seeds => Environment.GetEnvironmentVariable("RIGDAQ_LONG") == "1" ? 500 : 10;

    [Fact]
    public async Task Nothing_moves_unless_everything_allows_it()
    {
        int looks = 0, moving = 0, breaks = 0;
        for (ulong seed = 1; seed <= (ulong)Seeds; seed++)
        {
            var world = new World(seed);
            await using VirtualRig rig = world.Rig;
            for (int i = 0; i < Actions; i++) world.ActAndLook(i);
            looks += world.Looks;
            moving += world.LooksMoving;
            breaks += rig.PullsMade;
        }

        // A world in which nothing ever moves would prove nothing.
        Assert.True(moving > looks / 20, $"It moved in {moving} of {looks} looks.");
        Assert.True(breaks > 0);
    }

    private sealed class World
    {
        private const double LifeSecondsMax = 0.52;
        private readonly SeededRandom _random;
        private readonly ulong _seed;
        private readonly SteppedHost _host;
        private bool _guardClosed = true;
        private bool _stopReleased = true;
        private double _sinceLife;
        private int _specimens;
        private int _stoodAt;

        public World(ulong seed)
        {
            _seed = seed;
            _random = new SeededRandom(seed);
            _host = new SteppedHost(new VirtualRigOptions { Seed = seed, TimeScale = Below(2) == 0 ? 1 : 10 }) { LosesAnswers = true };
            _host.SendsKeepAlive = false;
            _host.Greet();
        }

        public int Looks { get; private set; }

        public int LooksMoving { get; private set; }

        public VirtualRig Rig => _host.Rig;

        public void ActAndLook(int action)
        {
            _stoodAt = Rig.PositionSteps;
            Act();
            // Mostly a living host, now and then a dead one.
            bool lives = Below(10) != 0;
            for (int i = 0; i < 1 + Below(8); i++)
            {
                if (lives) Live();
                _host.Run(0.1);
                _sinceLife += 0.1;
                Look(action);
            }
        }

        private void Live()
        {
            _host.KeepAlive((ushort)_random.NextBits());
            _sinceLife = 0;
        }

        private void Look(int action)
        {
            bool moves = Rig.IsMotorMoving || Rig.Motion != MotionState.Still;
            Looks++;
            if (moves) LooksMoving++;
            string where = $"seed {_seed}, action {action}: {Rig.Motion}, {Rig.Faults}, {Rig.PositionSteps} steps";
            Assert.False(moves && !_guardClosed, where);
            Assert.False(moves && !_stopReleased, where);
            Assert.False(moves && Rig.Faults != DeviceFaults.None, where);
            Assert.False(moves && _sinceLife > LifeSecondsMax, where);
            Assert.False(moves && !Rig.IsMotorPowered, where);
            Assert.False(!_stopReleased && !Rig.Faults.HasFlag(DeviceFaults.EmergencyStop), where);
            Assert.InRange(Rig.CrossheadMillimetres, 0, Rig.Options.ScrewMillimetres);
            if (_host.Blocks.Count == 0) return;
            Assert.False(moves && _host.State.BootNumber == Rig.BootNumber && _host.State.LimitsId == 0 && !_host.LineEnded, where);
            if (Rig.Motion is MotionState.Moving && _host.LimitsTaken is { } limits)
            {
                // Where it stands outside already, only the way back is open.
                Assert.True(Rig.PositionSteps >= Math.Min(limits.TravelStepsMin, _stoodAt), where);
                Assert.True(Rig.PositionSteps <= Math.Max(limits.TravelStepsMax, _stoodAt), where);
            }
        }

        // Left to chance alone something would nearly always forbid motion.
        private void MakeReady()
        {
            SetGuard(closed: true);
            SetStop(released: true);
            Live();
            _host.Clear((DeviceFaults)0x1FF);
            if (Rig.Motion == MotionState.Still) _host.SetLimits();
        }

        private void Act()
        {
            int action = Below(22);
            if (action is >= 2 and <= 8 && Below(4) != 0) MakeReady();
            switch (action)
            {
                case 0
                    or 1:
                    _host
                    .SetLimits(l => l with { TravelStepsMax = 1600 * (1 + Below(120)), MotionMillisecondsMax = 500u + (uint)Below(5000) });
                    break;
                case 2 or 3 or 4: _host.Move((_random.NextUniform() - 0.4) * 20); break;
                case 5: _host.Move(1 + (_random.NextUniform() * 15), _random.NextUniform() * 100); break;
                case 6: _host.Home(5 + (_random.NextUniform() * 10)); break;
                case 7 or 8: _host.Feed(); break;
                case 9: _host.Stop(Below(2) == 0); break;
                case 10 or 11: _host.Clear((DeviceFaults)0x1FF); break;
                case 12: SetGuard(closed: false); break;
                case 13 or 14: SetGuard(closed: true); break;
                case 15: SetStop(released: false); break;
                case 16: SetStop(released: true); break;
                case 17:
                    Rig.QueueSpecimens([new VirtualSpecimen { Label = $"S{++_specimens}", StrengthNewtons = 100 + Below(1500) }]);
                    break;
                case 18: Rig.Inject(AnyFault()); break;
                case 19: _host.Stream(true, (uint)Below(600_000)); break;
                case 20 when Below(3) == 0: Rig.Restart(); break;
                default: _host.Move(1, change: m => m with { BootNumber = m.BootNumber ^ 1 }); break;
            }
        }

        private void SetGuard(bool closed)
        {
            _guardClosed = closed;
            if (closed) Rig.CloseGuard();
            else Rig.OpenGuard();
        }

        private void SetStop(bool released)
        {
            _stopReleased = released;
            if (released) Rig.ReleaseEmergencyStop();
            else Rig.PressEmergencyStop();
        }

        private VirtualFault AnyFault() => Below(10) switch
        {
            0 => new VirtualFault.Spikes(3, 2_000_000, 20),
            1 => new VirtualFault.LostBytes(0.01, TimeSpan.FromSeconds(1)),
            2 => new VirtualFault.Garbage(300),
            3 => new VirtualFault.LostBlocks(4),
            4 => new VirtualFault.LostAnswers(2),
            5 => new VirtualFault.LostCommands(3),
            6 => new VirtualFault.SilentConverter(TimeSpan.FromMilliseconds(300)),
            7 => new VirtualFault.ConverterAtEnd(TimeSpan.FromMilliseconds(100)),
            8 => new VirtualFault.Slip(0.2),
            _ => new VirtualFault.WatchdogRestart(),
        };

        private int Below(int bound) => (int)(_random.NextBits() % (ulong)bound);
    }
}
