using RigDaq.Core.Pulls;
using RigDaq.Core.Trace;
using ScottPlot;

namespace RigDaq.Corpus.Pictures;

/// <summary>
/// Draws how far three ways of reading a peak are off, against the sample rate: the estimate that is reported, the greatest
/// sample, and the greatest of a low-passed trace.
/// </summary>
internal static class PeakPicture
{
    private const int TracesPerRate = 240;
    private const double PeakNewtons = 500;
    private const double NoiseNewtons = 0.5;
    private const double LoadSeconds = 4;
    private static readonly double[] RatesHertz = [20, 40, 80, 160, 320, 640, 1280, 2560];

    /// <summary>Writes both pictures into a folder and the figures to the console.</summary>
    public static void Write(string folder)
    {
        Directory.CreateDirectory(folder);
        Write(Path.Combine(folder, "peak-sudden.svg"), yields: false, "Sudden break, rising at 125 N/s (noise 0.5 N)");
        Write(Path.Combine(folder, "peak-yielding.svg"), yields: true, "Yielding, smooth top (noise 0.5 N)");
    }

    private static void Write(string file, bool yields, string title)
    {
        string[] names = ["reported estimate", "greatest sample", "greatest of a 20 Hz low-pass"];
        var bias = new double[names.Length, RatesHertz.Length];
        var rms = new double[names.Length, RatesHertz.Length];
        for (int r = 0; r < RatesHertz.Length; r++)
        {
            var errors = new double[names.Length][];
            for (int way = 0; way < names.Length; way++) errors[way] = new double[TracesPerRate];
            double rate = RatesHertz[r];
            Parallel.For(0, TracesPerRate, i =>
            {
                double[] off = Errors((ulong)((1000 * rate) + i), rate, yields);
                for (int way = 0; way < off.Length; way++) errors[way][i] = off[way] / NoiseNewtons;
            });
            for (int way = 0; way < names.Length; way++)
            {
                bias[way, r] = errors[way].Average();
                rms[way, r] = Math.Sqrt(errors[way].Average(e => e * e));
                Console.WriteLine(FormattableString.Invariant($"{title}; {rate} samples/s; {names[way]}: bias {bias[way, r]:F2}, rms {rms[way, r]:F2} in units of the noise"));
            }
        }

        Draw(file, title, names, bias, rms, yields);
    }

    private static double[] Errors(ulong seed, double rate, bool yields)
    {
        var random = new Normal(seed);
        double start = 1.1 + (random.Uniform() / rate);
        double load = LoadSeconds * random.Between(0.97, 1.03);
        var shape = new PullShape
        {
            Start = start,
            LoadSeconds = load,
            Peak = PeakNewtons,
            Bend = yields ? 2.5 : 1.02,
            Yields = yields,
            Softening = 0.06,
            SofteningWidth = 0.3,
            Fate = Fate.Sudden,
            FallAt = start + (load * (yields ? 1.25 : 1)),
        };
        int n = (int)((shape.FallAt + 0.6) * rate);
        var times = new double[n];
        var forces = new double[n];
        for (int i = 0; i < n; i++)
        {
            times[i] = i / rate;
            forces[i] = shape.At(times[i]) + (NoiseNewtons * random.Next());
        }

        TraceReading reading = TraceAnalysis.Read(new ForceTrace { TimesSeconds = times, ForcesNewtons = forces }, new DetectionSettings());
        double truth = shape.TruePeak(shape.FallAt);
        double zero = reading.ZeroNewtons!.Value;
        var filter = new LowPass(Math.Min(20, rate / 4), rate);
        double filtered = forces.Max(force => filter.Next(force - zero));
        return [reading.PeakForceNewtons!.Value - truth, reading.RawPeakForceNewtons!.Value - truth, filtered - truth];
    }

    private static void Draw(string file, string title, string[] names, double[,] bias, double[,] rms, bool yields)
    {
        // Okabe and Ito's colours, as in the reports.
        string[] colours = ["#0072b2", "#d55e00", "#009e73"];
        const double Limit = 4;
        using var plot = new Plot();
        double[] x = [.. RatesHertz.Select(Math.Log2)];
        if (!yields)
        {
            // Left of this the rise between two samples is above three times the noise: no estimate can know the last interval.
            var coarse = plot.Add.HorizontalSpan(x[0] - 0.3, Math.Log2(PeakNewtons / LoadSeconds / (3 * NoiseNewtons)),
                Color.FromHex("#f1efea"));
            coarse.LegendText = "rise between samples above 3 σ";
        }

        for (int way = 0; way < names.Length; way++)
        {
            int w = way;
            Color colour = Color.FromHex(colours[way]);
            var solid = plot.Add.Scatter(x, x.Select((_, r) => Math.Clamp(bias[w, r], -Limit, Limit)).ToArray(), colour);
            solid.LineWidth = 2.5f;
            solid.MarkerSize = 7;
            solid.LegendText = names[way] + ", bias";
            var thin = plot.Add.Scatter(x, x.Select((_, r) => Math.Min(rms[w, r], Limit)).ToArray(), colour);
            thin.LineWidth = 1;
            thin.MarkerShape = MarkerShape.OpenSquare;
            thin.MarkerSize = 8;
            thin.LegendText = "rms";
        }

        plot.Add.HorizontalLine(0, 1, Colors.Gray);
        plot.Title(title);
        plot.XLabel("samples/s", 15);
        plot.YLabel("off the true peak, in σ of the noise", 15);
        plot.Axes.SetLimits(x[0] - 0.3, x[^1] + 0.3, -Limit - 0.2, Limit + 0.2);
        plot.Axes.Bottom.SetTicks(x, [.. RatesHertz.Select(rate => FormattableString.Invariant($"{rate}"))]);
        plot.ShowLegend(Edge.Bottom);
        plot.Legend.Orientation = Orientation.Horizontal;
        plot.SaveSvg(file, 900, 620);
    }
}
