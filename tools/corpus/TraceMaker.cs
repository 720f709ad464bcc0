using RigDaq.Core.Pulls;
using RigDaq.Core.Trace;

namespace RigDaq.Corpus;

/// <summary>Makes traces of all kinds and rates, each from its seed alone.</summary>
internal static class TraceMaker
{
    /// <summary>The kinds; a seed's remainder picks one.</summary>
    public static readonly IReadOnlyList<string> Kinds =
    [
        "brittle", "brittle", "yielding", "drawn", "tear", "slips out", "partly broken", "unbroken", "no contact", "load drops",
        "deep slip", "slack", "pre-tension", "saturated", "repeated values", "lost samples", "lost in the fall", "spikes", "coarse steps",
        "jittery times",
    ];

    /// <summary>Makes the trace of a seed.</summary>
    /// <param name="seed">Any; the kind is its remainder.</param>
    /// <param name="samplesMax">Rates are chosen so that a trace has no more samples.</param>
    /// <param name="rateHertz">A rate of samples, or null for one from 10 to 4,000.</param>
    public static SyntheticTrace Make(ulong seed, int samplesMax = 20_000, double? rateHertz = null)
    {
        string kind = Kinds[(int)(seed % (ulong)Kinds.Count)];
        var random = new Normal((seed * 0x2545F4914F6CDD1D) + 99);
        int repeats = kind == "repeated values" ? 2 + random.Pick(3) : 1;
        double rate = rateHertz ?? random.LogBetween(10, 4000);
        bool small = samplesMax < 4000;
        double start = kind == "slack" ? random.Between(1.5, 5) : random.Between(1.05, 1.6);
        double load = random.LogBetween(0.8, 12);
        if (small) (start, load) = (random.Between(0.2, 1.1), random.LogBetween(0.3, 3));

        // Some sixteen conversions at the least while it is loaded; nobody pulls in milliseconds to save samples.
        double interval = Math.Max(1 / rate, (start + (2.2 * load) + 1.2) / samplesMax);
        load = Math.Max(load, 16 * interval * repeats);
        start = Math.Max(start, 8 * interval * repeats);
        PullShape shape = Shape(kind, random, start, load, interval * repeats);
        double rest = Math.Max(0.7, 9 * interval * repeats);
        double end = double.IsInfinity(shape.FallAt) ? start + (load * 1.3)
            : shape.FallAt + (shape.FallIsExponential ? 5 * shape.FallSeconds : shape.FallSeconds) + rest;
        return Sample(seed, kind, shape, random, interval, repeats, end);
    }

    /// <summary>
    /// A specimen that necks slowly down to less than 1.5 × remaining and then parts at once. By the rule it slipped out, because what
    /// slides and is let go at last looks alike; the reading has to say that it parted.
    /// </summary>
    public static SyntheticTrace MakeDrawnThenParted(ulong seed, int samplesMax, double rateHertz)
    {
        var random = new Normal((seed * 0x2545F4914F6CDD1D) + 77);
        (double start, double load) = (random.Between(0.6, 1.1), random.LogBetween(0.6, 2));
        double softening = random.Between(0.44, 0.75), width = Math.Max(1.5, 4 / load);
        double fallAt = start + (load * (1 + width + random.Between(0.05, 0.3)));
        double interval = Math.Max(1 / rateHertz, (fallAt + 0.7) / samplesMax);
        start = Math.Max(start, 8 * interval);
        var shape = new PullShape
        {
            Start = start,
            LoadSeconds = load,
            Peak = random.LogBetween(100, 900),
            Bend = random.Between(2, 3),
            Yields = true,
            Softening = softening,
            SofteningWidth = width,
            Fate = Fate.Sudden,
            FallAt = fallAt,
        };
        SyntheticTrace made = Sample(seed, "drawn then parted", shape, random, interval, 1, fallAt + Math.Max(0.7, 9 * interval));
        return made with { Ending = PullEnding.SlippedOut };
    }

    private static PullShape Shape(string kind, Normal random, double start, double load, double interval)
    {
        double peak = random.LogBetween(40, 1500);
        bool yields = kind is "yielding" or "drawn" || (kind is not ("brittle" or "slack" or "saturated") && random.Chance(0.35));
        double softening = !yields ? 0 : kind == "drawn" ? random.Between(0.1, 0.3) : random.Between(0.01, 0.15);
        double width = random.Between(0.3, 0.8);
        Fate fate = kind switch
        {
            "tear" => Fate.Tear,
            "slips out" => Fate.SlipsOut,
            "partly broken" => Fate.Partial,
            "unbroken" => Fate.Holds,
            "no contact" => Fate.Untouched,
            _ => Fate.Sudden,
        };
        double fallAt = fate is Fate.Holds or Fate.Untouched
            ? double.PositiveInfinity
            : start + (load * (yields ? kind == "drawn" ? 1 + width + random.Between(0.1, 0.6) : random.Between(1.02, 1.2 + width) : 1));
        double fall = fate switch
        {
            // From 60 to 40 per cent in at most 0.2 s, or two samples.
            Fate.Tear => random.Between(0.05, 0.9),

            // The same in at least 0.45 s, and slower than any sampling hides.
            Fate.SlipsOut => Math.Max(random.Between(2.4, 5), 15 * interval),
            _ => 0,
        };
        bool exponential = fate == Fate.SlipsOut && random.Chance(0.4);
        return new PullShape
        {
            Start = start,
            LoadSeconds = load,
            Peak = peak,
            Bend = yields ? random.Between(2, 4) : random.Between(1, 1.8),
            Toe = kind == "slack" ? random.Between(0.05, 0.25) : random.Chance(0.5) ? random.Between(0.01, 0.1) : 0,
            Yields = yields,
            Softening = softening,
            SofteningWidth = width,
            Fate = fate,
            FallAt = fallAt,
            FallSeconds = exponential ? Math.Max(random.Between(1.15, 2.5), 15 * interval) : fall,
            FallIsExponential = exponential,
            Left = fate switch
            {
                Fate.Partial => random.Between(0.09, 0.33),
                Fate.SlipsOut when random.Chance(0.5) => random.Between(0, 0.25),
                _ => 0,
            },
            RingAmplitude = random.Chance(0.5) ? random.Between(0.05, 0.6) : 0,
            RingHertz = random.LogBetween(60, 900),
            RingSeconds = random.Between(0.002, 0.012),
            Drops = DropsOf(kind, random, start, load, interval),
        };
    }

    private static List<(double At, double Depth, double Seconds)> DropsOf(string kind, Normal random, double start, double load,
        double interval)
    {
        var drops = new List<(double, double, double)>();
        if (kind == "load drops")
        {
            int count = 1 + random.Pick(3);
            for (int i = 0; i < count; i++)
            {
                // Far enough apart and long enough to be seen at this rate, short enough to be over before the end.
                double at = start + (load * (0.3 + (0.6 * (i + random.Between(0.1, 0.4)) / count)));
                double seconds = Math.Max(random.Between(0.02, 0.06) * load, 3 * interval);
                drops.Add((at, random.Between(0.08, 0.35), seconds));
            }
        }
        else if (kind == "deep slip")
        {
            double seconds = Math.Max(Math.Min(0.12, 0.08 * load), 2 * interval);
            drops.Add((start + (load * random.Between(0.4, 0.6)), random.Between(0.65, 0.9), seconds));
        }

        return drops;
    }

    private static SyntheticTrace Sample(ulong seed, string kind, PullShape shape, Normal random, double interval, int repeats, double end)
    {
        double noise = shape.Peak * random.LogBetween(0.0002, 0.004);
        double hum = random.Chance(0.3) ? noise * random.Between(0.2, 0.8) : 0;
        double offset = shape.Peak * random.Between(-0.3, 0.3);
        double preTension = kind == "pre-tension" ? shape.Peak * random.Between(0.02, 0.08) : 0;
        double step = kind == "coarse steps" ? noise * random.Between(1.5, 3) : noise * random.LogBetween(0.001, 0.5);
        double averaging = random.Chance(0.5) ? interval : 0;
        double ceiling = kind == "saturated" ? shape.Peak * random.Between(0.6, 0.93) : double.PositiveInfinity;
        double jitter = kind == "jittery times" ? interval * random.Between(0.05, 0.3) : 0;
        double phase = interval * random.Uniform();
        double humHertz = random.Chance(0.5) ? 50 : 100;
        double humPhase = 2 * Math.PI * random.Uniform();
        double conversion = interval * repeats;
        int n = Math.Max(20, (int)((end - phase) / interval));
        var times = new double[n];
        var forces = new double[n];
        double held = 0;
        for (int i = 0; i < n; i++)
        {
            times[i] = phase + (i * interval) + (jitter * random.Between(-1, 1));
            if (i % repeats == 0)
            {
                double force = Math.Max(Average(shape, times[i], averaging * repeats, conversion), preTension > 0 && times[i] < shape.FallAt
                    ? preTension : double.NegativeInfinity);
                force = Math.Min(force, ceiling);
                bool atEnd = force == ceiling;
                held = force
                    + (atEnd ? 0 : (noise * random.Next())
                    + (hum * Math.Sqrt(2) * Math.Sin((2 * Math.PI * humHertz * times[i]) + humPhase))) + offset;
                if (kind == "no contact") held += Touch(times[i], noise);
                held = Math.Round(held / step) * step;
            }

            forces[i] = held;
        }

        int spikes = kind == "spikes" || random.Chance(0.1) ? PutSpikes(times, forces, shape, random, noise, repeats) : 0;
        (times, forces, int lost) = Lose(kind, times, forces, shape, random);
        double total = Math.Sqrt((noise * noise) + (hum * hum) + (step * step / 12));
        bool separates = shape.Fate is Fate.Sudden or Fate.Tear or Fate.Partial;
        double before = double.IsInfinity(shape.FallAt) ? 0 : shape.At(shape.FallAt - 1e-9);
        double rate = double.IsInfinity(shape.FallAt) ? 0 : (before - shape.At(shape.FallAt - 1e-4)) / (1e-4 - 1e-9);
        double truePeak = shape.TruePeak(end);
        return new SyntheticTrace
        {
            Seed = seed,
            Kind = kind,
            Trace = new ForceTrace { TimesSeconds = times, ForcesNewtons = forces, ConverterDelaySeconds = averaging * repeats / 2 },
            Ending = shape.Fate switch
            {
                Fate.SlipsOut => PullEnding.SlippedOut,
                Fate.Partial => PullEnding.PartlyBroken,
                Fate.Holds => PullEnding.Unbroken,
                Fate.Untouched => PullEnding.NoContact,
                _ => PullEnding.Broken,
            },
            TruePeak = kind == "saturated" || shape.Fate == Fate.Untouched ? null : truePeak - preTension,
            FallAt = separates ? shape.FallAt : null,
            TrueBreakForce = separates && kind != "saturated" ? before - preTension : null,
            Noise = total,
            Hum = hum,
            Interval = conversion,
            RisesIntoFall = shape.Fate is Fate.Sudden or Fate.Partial && rate > 0 && before >= truePeak * (1 - 1e-9),
            Rate = shape.Yields ? Math.Max(0, rate) : Math.Max(rate, shape.LoadingRate),
            SlopeIntoFall = Math.Abs(rate),
            Spikes = spikes,
            Lost = lost,
            Drops = shape.Drops.Count,
        };
    }

    /// <summary>A touch below contact: two slow swells of some six standard deviations.</summary>
    private static double Touch(double time, double noise) => 4 * noise * Math.Max(0, Math.Sin(2 * Math.PI * (time - 1.2) / 1.5));

    private static double Average(PullShape shape, double time, double window, double interval)
    {
        if (window <= 0) return shape.At(time);

        // Only near a corner does an average differ from the middle by more than a hair.
        bool corner = Math.Abs(time - shape.FallAt) < 3 * interval || (time > shape.FallAt && time < shape.FallAt + 0.1)
            || shape.Drops.Any(drop => Math.Abs(time - drop.At) < 3 * interval);
        if (!corner) return shape.At(time - (window / 2));
        const int Parts = 24;
        double sum = 0;
        for (int k = 0; k < Parts; k++) sum += shape.At(time - (window * (k + 0.5) / Parts));
        return sum / Parts;
    }

    private static int PutSpikes(double[] times, double[] forces, PullShape shape, Normal random, double noise, int repeats)
    {
        int wanted = Math.Min(1 + random.Pick(5), 1 + (forces.Length / (60 * repeats)));
        int put = 0;
        var taken = new List<int>();
        for (int tries = 0; tries < 40 && put < wanted; tries++)
        {
            int at = (3 + random.Pick(forces.Length - 8)) / repeats * repeats;
            double interval = times[1] - times[0];

            // A wild conversion beside a fall, a drop or the first contact cannot be told from them by anyone.
            if (Math.Abs(times[at] - shape.FallAt) < 4 * repeats * interval || Math.Abs(times[at] - shape.Start) < 6 * repeats
                * interval) continue;
            if (shape.Drops.Any(drop => times[at] > drop.At - (4 * repeats * interval)
                && times[at] < drop.At + (4 * drop.Seconds))) continue;
            if (taken.Any(other => Math.Abs(other - at) < 4 * repeats) || at + repeats > forces.Length - 3) continue;
            if (times[at] > shape.FallAt && times[at] < shape.FallAt + 0.1 + shape.FallSeconds) continue;
            double height = Math.Max(60 * noise, shape.Peak * random.Between(0.2, 3)) * (random.Chance(0.5) ? 1 : -1);
            for (int k = at; k < at + repeats; k++) forces[k] += height;
            taken.Add(at);
            put++;
        }

        return put * repeats;
    }

    private static (double[] Times, double[] Forces, int Lost) Lose(string kind, double[] times, double[] forces, PullShape shape,
        Normal random)
    {
        if (kind is not ("lost samples" or "lost in the fall")) return (times, forces, 0);
        var gone = new HashSet<int>();
        if (kind == "lost in the fall")
        {
            int fall = Array.FindIndex(times, time => time >= shape.FallAt);
            int count = 1 + random.Pick(Math.Clamp((int)(0.1 / (times[1] - times[0])), 2, 30));
            for (int i = 0; i < count && fall + i < times.Length - 8; i++) gone.Add(fall + i);
        }
        else
        {
            int blocks = 1 + random.Pick(4);
            for (int b = 0; b < blocks; b++)
            {
                int at = 8 + random.Pick(times.Length - 20);
                int count = 1 + random.Pick(10);
                double interval = times[1] - times[0];
                if (times[at] < shape.FallAt + (2 * interval) && times[at] + (count * interval) > shape.FallAt - (2 * interval)) continue;
                for (int i = 0; i < count; i++) gone.Add(Math.Min(at + i, times.Length - 10));
            }
        }

        int[] kept = [.. Enumerable.Range(0, times.Length).Where(i => !gone.Contains(i))];
        return ([.. kept.Select(i => times[i])], [.. kept.Select(i => forces[i])], gone.Count);
    }
}
