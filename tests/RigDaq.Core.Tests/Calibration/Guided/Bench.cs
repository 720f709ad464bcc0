using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Signal;

namespace RigDaq.Core.Tests.Calibration.Guided;

/// <summary>A bench with a person who does what is asked, and a cell made of equations: for tests, one second of signal at a
/// time.</summary>
internal sealed class Bench
{
    private readonly Random _random = new(20260301);
    private double _hanging;
    private double _hungAt;
    private double _creep;
    private long _number;

    public Bench(GuidePlan plan)
    {
        (State, var prompts) = CalibrationGuide.Begin(plan);
        Prompts = [.. prompts];
    }

    public GuideState State { get; set; }

    public List<GuidePrompt> Prompts { get; }

    public double SampleRateHertz { get; init; } = 80;

    public double CountsPerNewton { get; set; } = 2000;

    public double ZeroCounts { get; set; } = 81_000;

    public double NoiseCounts { get; init; } = 12;

    /// <summary>Share of the force by which the cell creeps, with 10 s.</summary>
    public double CreepShare { get; init; }

    public double DriftCountsPerMinute { get; set; }

    /// <summary>How much a fresh weight swings, as a share of its force; it dies away with 3 s.</summary>
    public double SwingShare { get; init; }

    public double Seconds { get; set; }

    public uint? BootNumber { get; set; }

    /// <summary>Changes what the person hangs; takes what was asked for.</summary>
    public Func<Bench, double, double> Hand { get; set; } = (_, wanted) => wanted;

    public GuideView View => CalibrationGuide.Describe(State);

    /// <summary>Does what is asked, three seconds after it was asked, until a condition holds.</summary>
    public Bench Until(Func<Bench, bool> done, double secondsMax = 3600)
    {
        double end = Seconds + secondsMax;
        (int Task, GuidePhase Phase) asked = (-1, GuidePhase.WarmingUp);
        double askedAt = Seconds;
        while (!done(this))
        {
            Assert.True(Seconds < end,
                $"Still in {State.Phase}, task {State.TaskIndex}: {string.Join(" | ", Prompts.TakeLast(3).Select(prompt => prompt.Text))}");
            var now = (State.TaskIndex, State.Phase);
            if (now != asked) (asked, askedAt) = (now, Seconds);
            if (View.Wanted is { } wanted && State.Phase == GuidePhase.Awaiting && Seconds >= askedAt + 3) Hang(Hand(this, wanted.Newtons));
            Second();
        }

        return this;
    }

    public void Do(PersonAction action, int degree = 1) => Send(new GuideEvent.Person(action, degree));

    public void Hang(double newtons)
    {
        if (newtons == _hanging) return;
        _creep = Creep();
        _hanging = newtons;
        _hungAt = Seconds;
    }

    public void Second()
    {
        int count = (int)SampleRateHertz;
        var block = new RawSample[count];
        for (int i = 0; i < count; i++)
        {
            double time = Seconds + (i / SampleRateHertz);
            double since = time - _hungAt;
            double swing = _hanging * SwingShare * Math.Exp(-since / 3) * Math.Sin(2 * Math.PI * 1.7 * since);
            double creep = _creep + (((CreepShare * _hanging) - _creep) * (1 - Math.Exp(-Math.Max(0, since) / 10)));
            double noise = NoiseCounts * MathNet.Numerics.Distributions.Normal.Sample(_random, 0, 1);
            double counts = ZeroCounts + (DriftCountsPerMinute * time / 60) + (CountsPerNewton * (_hanging + swing + creep)) + noise;
            block[i] = new RawSample(_number++, (long)(time * 1e6), (int)Math.Clamp(Math.Round(counts), -8_388_608, 8_388_607), 0);
        }

        Seconds += 1;
        Send(new GuideEvent.Samples(block, BootNumber));
    }

    private double Creep() => _creep + (((CreepShare * _hanging) - _creep) * (1 - Math.Exp(-(Seconds - _hungAt) / 10)));

    private void Send(GuideEvent what)
    {
        (State, var prompts) = CalibrationGuide.Handle(State, what);
        Prompts.AddRange(prompts);
    }
}
