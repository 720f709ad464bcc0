using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Session;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.Control;

/// <summary>Turns limits in newtons, millimetres and seconds into the device's own units, inside what the device ever allows.</summary>
internal static class LimitsMaker
{
    /// <summary>What the device holds lies so far outside what is commanded, in mm: ending a motion is no fault.</summary>
    public const double TravelMarginMillimetres = 1;

    /// <summary>One motion may take so much longer than planned.</summary>
    public static readonly TimeSpan TimeMargin = TimeSpan.FromSeconds(15);

    private const double SpeedMargin = 1.02;
    private const double CountsMax = 1 << 24;

    /// <summary>The limits, or why they cannot be.</summary>
    /// <param name="hello">What the device allows.</param>
    /// <param name="settings">What is wanted.</param>
    /// <param name="force">What forces are reckoned with; null leaves only the device's own force limits.</param>
    /// <param name="travel">From where to where the crosshead may go, in mm; null for all that the device allows.</param>
    /// <param name="stiffness">Of the stiffest thing that can be run into, frame and cell in series, in N/mm; null where nobody
    /// said.</param>
    /// <param name="converterDelaySeconds">The converter's delay by configuration; null: as the device says. The longer one is reckoned
    /// with.</param>
    public static (DeviceLimits? Limits, Sentence Problem) Make(HelloMessage hello,
        PullSettings settings, (ForceCurve Curve, double ZeroCounts)? force, (double From, double To)? travel, double? stiffness = null,
        double? converterDelaySeconds = null)
    {
        hello = StopOvershoot.WithDelay(hello, converterDelaySeconds);
        var problems = new List<Sentence>();
        (int forceMin, int forceMax) = Force(hello, settings, force, problems);
        if (problems.Count == 0 && force is { } reckoned && stiffness is { } stiff && hello.ConverterRateMillihertz > 0)
            LookWhereAStopEnds(hello, settings, reckoned, stiff, problems);
        double stepsPerMillimetre = hello.StepsPerMetre / 1000.0;
        (int travelMin, int travelMax) = Travel(hello, travel, stepsPerMillimetre);
        double fastest = Math.Max(settings.ReturnSpeedMillimetresPerSecond,
            Math.Max(settings.SpeedMillimetresPerSecond, settings.SlackSpeedMillimetresPerSecond));
        uint speed = Within(fastest * stepsPerMillimetre, hello.HardSpeedStepsPerSecondMax, stepsPerMillimetre,
            RigText.MoreSpeedThanAllowed, problems);
        uint acceleration = Within(settings.AccelerationMillimetresPerSecondSquared * stepsPerMillimetre,
            hello.HardAccelerationStepsPerSecondSquaredMax, stepsPerMillimetre, RigText.MoreAccelerationThanAllowed, problems);
        double slowest = Math.Min(settings.ReturnSpeedMillimetresPerSecond, settings.SpeedMillimetresPerSecond);
        double travelSeconds = travel is { } t && slowest > 0 ? (t.To - t.From) / slowest : 0;
        double seconds = Math.Max(settings.TimeLimitSeconds, Math.Min(travelSeconds, 3600)) + TimeMargin.TotalSeconds;
        if (problems.Count > 0) return (null, problems.Joined());
        return (new DeviceLimits(forceMin, forceMax, travelMin, travelMax, speed, acceleration, (uint)(seconds * 1000)), Sentence.None);
    }

    /// <summary>The deflection in counts at a force: the curve's inverse, by halving; null where the curve never reaches it.</summary>
    public static double? DeflectionCounts(ForceCurve curve, double newtons)
    {
        double direction = Math.Sign(newtons) * Math.Sign(curve.NewtonsPerCount(0));
        if (direction == 0) return 0;
        double inside = 0, outside = direction;
        while (Math.Abs(curve.Newtons(outside)) < Math.Abs(newtons) || curve.Newtons(outside) * newtons < 0)
        {
            inside = outside;
            outside *= 2;
            if (Math.Abs(outside) > CountsMax) return null;
        }

        for (int i = 0; i < 60; i++)
        {
            double middle = (inside + outside) / 2;
            if (Math.Abs(curve.Newtons(middle)) < Math.Abs(newtons)) inside = middle;
            else outside = middle;
        }

        return (inside + outside) / 2;
    }

    private static (int Min, int Max) Force(HelloMessage hello, PullSettings settings, (ForceCurve Curve, double ZeroCounts)? force,
        List<Sentence> problems)
    {
        if (force is not { } known) return (hello.HardForceCountsMin, hello.HardForceCountsMax);
        int? pull = Counts(settings.ForceLimitNewtons, known);
        int? push = Counts(-settings.CompressionLimitNewtons, known);
        if (pull is not { } p || p < hello.HardForceCountsMin || p > hello.HardForceCountsMax)
        {
            double nearest = known.Curve.NewtonsPerCount(0) >= 0 ? hello.HardForceCountsMax : hello.HardForceCountsMin;
            problems.Add(RigText.MoreForceThanAllowed(settings.ForceLimitNewtons, known.Curve.Newtons(nearest - known.ZeroCounts)));
            return default;
        }

        if (push is not { } reached)
        {
            problems.Add(RigText.NoCompressionLimit(-settings.CompressionLimitNewtons));
            return default;
        }

        // The device's own limit may hold earlier the other way; that is only safer.
        int q = Math.Clamp(reached, hello.HardForceCountsMin, hello.HardForceCountsMax);
        return (Math.Min(p, q), Math.Max(p, q));
    }

    /// <summary>Both ways: apart it can pull at what does not give, together it can push the grips onto each other.</summary>
    private static void LookWhereAStopEnds(HelloMessage hello, PullSettings settings, (ForceCurve Curve, double ZeroCounts) force,
        double stiffness, List<Sentence> problems)
    {
        double atMax = force.Curve.Newtons(hello.HardForceCountsMax - force.ZeroCounts);
        double atMin = force.Curve.Newtons(hello.HardForceCountsMin - force.ZeroCounts);
        double fastest = Math.Max(settings.SpeedMillimetresPerSecond, settings.SlackSpeedMillimetresPerSecond);
        Look(RigText.SpeedOfPulling, fastest, settings.ForceLimitNewtons, Math.Max(atMax, atMin));
        Look(RigText.SpeedOfReturning, settings.ReturnSpeedMillimetresPerSecond, settings.CompressionLimitNewtons, -Math.Min(atMax, atMin));

        void Look(Sentence what, double speed, double limit, double bearable)
        {
            double further = StopOvershoot.Newtons(hello, stiffness, speed);
            if (limit + further <= bearable) return;
            // Rounded down, so that it does.
            double wouldDo = Math.Floor(StopOvershoot.MillimetresPerSecondMax(hello, stiffness, bearable - limit) * 1000) / 1000;
            problems.Add(RigText.StopEndsTooFar(
                what, speed, stiffness, further, limit, bearable, hello.ConverterRateMillihertz / 1000.0, wouldDo > 0 ? wouldDo : null));
        }
    }

    private static int? Counts(double newtons, (ForceCurve Curve, double ZeroCounts) force) =>
        DeflectionCounts(force.Curve, newtons) is { } deflection ? (int)Math.Round(force.ZeroCounts + deflection) : null;

    private static (int Min, int Max) Travel(HelloMessage hello, (double From, double To)? travel, double stepsPerMillimetre)
    {
        if (travel is not { } wanted || stepsPerMillimetre <= 0) return (hello.HardTravelStepsMin, hello.HardTravelStepsMax);
        double from = (wanted.From - TravelMarginMillimetres) * stepsPerMillimetre;
        double to = (wanted.To + TravelMarginMillimetres) * stepsPerMillimetre;
        return ((int)Math.Clamp(from, hello.HardTravelStepsMin, hello.HardTravelStepsMax),
            (int)Math.Clamp(to, hello.HardTravelStepsMin, hello.HardTravelStepsMax));
    }

    private static uint Within(double wanted, uint hardMax, double stepsPerMillimetre, Func<double, double, Sentence> more,
        List<Sentence> problems)
    {
        if (wanted <= hardMax) return (uint)Math.Min(Math.Max(1, wanted * SpeedMargin), hardMax);
        problems.Add(more(wanted / stepsPerMillimetre, hardMax / stepsPerMillimetre));
        return 0;
    }
}
