namespace RigDaq.Corpus;

/// <summary>What happens to the specimen in the end.</summary>
internal enum Fate
{
    Sudden,
    Tear,
    SlipsOut,
    Partial,
    Holds,
    Untouched,
}

/// <summary>
/// The true force of one pull as a function of time, in closed form: no springs and no steps, so that nothing here is shared
/// with the equations of the virtual rig. Loading is a power law with a toe, yielding a cosine to a plateau, the fall a line, an
/// exponential or a jump with ringing.
/// </summary>
internal sealed class PullShape
{
    public required double Start { get; init; }
    public required double LoadSeconds { get; init; }
    public required double Peak { get; init; }

    /// <summary>1 is a straight line, above it the curve bends over; at <see cref="Yields"/> the top is level.</summary>
    public required double Bend { get; init; }

    /// <summary>How long the toe is, as a share of the loading.</summary>
    public double Toe { get; init; }

    public bool Yields { get; init; }

    /// <summary>How far the force goes down after a yield, as a share, and over which share of the loading time.</summary>
    public double Softening { get; init; }
    public double SofteningWidth { get; init; } = 1;
    public required Fate Fate { get; init; }

    /// <summary>When the last fall begins; infinite where it never does.</summary>
    public required double FallAt { get; init; }

    /// <summary>How long the fall lasts: nothing for a jump.</summary>
    public double FallSeconds { get; init; }
    public bool FallIsExponential { get; init; }

    /// <summary>What is left after it, as a share of the peak.</summary>
    public double Left { get; init; }
    public double RingAmplitude { get; init; }
    public double RingHertz { get; init; } = 200;
    public double RingSeconds { get; init; } = 0.01;

    /// <summary>Falls that recover: when, how deep as a share, how fast they are made up for.</summary>
    public IReadOnlyList<(double At, double Depth, double Seconds)> Drops { get; init; } = [];

    /// <summary>The force at a time, without noise.</summary>
    public double At(double time)
    {
        if (time <= Start || Fate == Fate.Untouched) return 0;
        if (time < FallAt) return Held(time);
        double level = Held(FallAt);
        double left = Left * Peak;
        double since = time - FallAt;
        double share = FallSeconds <= 0 ? 0 : FallIsExponential ? Math.Exp(-since / FallSeconds) : Math.Max(0, 1 - (since / FallSeconds));
        double ring = RingAmplitude * (level - left) * Math.Exp(-since / RingSeconds) * Math.Cos(2 * Math.PI * RingHertz * since);
        double gone = left + ((level - left) * share) + (FallSeconds <= 0 ? ring : 0);

        // What still holds goes on being pulled.
        return gone + (Fate == Fate.Partial ? 0.05 * left * Math.Min(1, since) : 0);
    }

    /// <summary>How fast the force rises at the end of the loading.</summary>
    public double LoadingRate => (Held(Start + (0.9999 * LoadSeconds)) - Held(Start + (0.9998 * LoadSeconds))) / (0.0001 * LoadSeconds);

    /// <summary>The greatest force before the fall.</summary>
    public double TruePeak(double end)
    {
        if (Fate == Fate.Untouched) return 0;
        double last = Math.Min(FallAt, end);
        const int Steps = 1500;
        double step = (last - Start) / Steps;
        double best = Held(last);
        double bestAt = last;
        for (int i = 1; i < Steps; i++)
        {
            double force = Held(Start + (i * step));
            if (force > best) (best, bestAt) = (force, Start + (i * step));
        }

        double low = Math.Max(Start, bestAt - step);
        double high = Math.Min(last, bestAt + step);
        for (int i = 0; i < 60; i++)
        {
            double a = low + ((high - low) / 3);
            double b = high - ((high - low) / 3);
            if (Held(a) < Held(b)) low = a;
            else high = b;
        }

        return Math.Max(best, Held((low + high) / 2));
    }

    private double Held(double time)
    {
        double x = (time - Start) / LoadSeconds;
        if (Toe > 0) x = (x - (Toe * (1 - Math.Exp(-x / Toe)))) / (1 - (Toe * (1 - Math.Exp(-1 / Toe))));
        double force;
        if (Yields)
        {
            force = x < 1 ? 1 - Math.Pow(1 - x, Bend)
                : 1 - (Softening * (1 - Math.Cos(Math.PI * Math.Min(1, (x - 1) / SofteningWidth))) / 2);
        }
        else
        {
            // Beyond its end a specimen that holds stays where it is and creeps off a little.
            double y = Math.Min(x, 1);
            force = (((2 - Bend) * y) + ((Bend - 1) * (1 - ((1 - y) * (1 - y))))) * (x > 1 ? 1 - (0.01 * Math.Log(1 + (5 * (x - 1)))) : 1);
        }

        foreach ((double at, double depth, double seconds) in Drops)
        {
            if (time >= at) force *= 1 - (depth * Math.Exp(-(time - at) / seconds));
        }

        return Peak * force;
    }
}
