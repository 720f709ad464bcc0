using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.References;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Calibration.Quality;

/// <summary>A force on the curve: the deflection that makes it, and what a change of the coefficients does there.</summary>
/// <param name="Powers">By what each coefficient is multiplied; beyond the references along the tangent.</param>
/// <param name="SlopeNewtonsPerCount">The slope.</param>
internal readonly record struct BudgetPlace(double[] Powers, double SlopeNewtonsPerCount)
{
    /// <summary>The place; null where the curve never reaches the force.</summary>
    public static BudgetPlace? Of(UncertaintyModel model, double forceNewtons)
    {
        int terms = model.Coefficients.Count;
        bool straight = terms - (model.Constant ? 1 : 0) < 2;
        bool beyond = forceNewtons > model.GreatestReferenceNewtons && !straight;
        if (Polynomial.Solve(model.Coefficients, model.Constant, beyond ? model.GreatestReferenceNewtons : forceNewtons) is not
            { } deflection) return null;
        double slope = Polynomial.SlopeAt(model.Coefficients, model.Constant, deflection);
        double[] powers = Polynomial.Powers(terms, model.Constant, deflection);
        if (beyond)
        {
            double beyondCounts = (forceNewtons - model.GreatestReferenceNewtons) / slope;
            int first = model.Constant ? 0 : 1;
            for (int i = 0; i < terms; i++)
                powers[i] += i + first == 0 ? 0 : (i + first) * Math.Pow(deflection, i + first - 1) * beyondCounts;
        }

        return new BudgetPlace(powers, Math.Abs(slope));
    }

    /// <summary>The variance of the force from a covariance of the coefficients, in N²; 0 where there is none.</summary>
    public double Variance(IReadOnlyList<IReadOnlyList<double>> covariance)
    {
        double sum = 0;
        for (int row = 0; row < covariance.Count; row++)
        {
            for (int column = 0; column < covariance.Count; column++) sum += Powers[row] * covariance[row][column] * Powers[column];
        }

        return Math.Max(0, sum);
    }

    /// <summary>What shifted coefficients do to the force, in newtons.</summary>
    public double Shifted(IReadOnlyList<double> coefficients)
    {
        double sum = 0;
        for (int i = 0; i < Powers.Length; i++) sum += Powers[i] * coefficients[i];
        return sum;
    }
}

/// <summary>The lines of the budget of a force under a calibration.</summary>
internal static class ForceBudget
{
    public static IEnumerable<BudgetLine> References(UncertaintyModel model, BudgetPlace place, List<Sentence> notes)
    {
        if (model.ReferenceShifts.Count == 0) notes.Add(CoreText.ForceReferencesExact);
        double gravity = Squares(model.ReferenceShifts.Where(shift => shift.Source == ReferenceForces.GravitySource), place);
        double others = Squares(model.ReferenceShifts.Where(shift => shift.Source != ReferenceForces.GravitySource), place);
        if (gravity > 0) yield return new BudgetLine(UncertaintyKind.References, CoreText.ForceBudgetGravity, CoreText.ForceBudgetNormal,
            Math.Sqrt(gravity), null);
        if (others > 0) yield return new BudgetLine(UncertaintyKind.References, CoreText.ForceBudgetReferences, CoreText.ForceBudgetAsGiven,
            Math.Sqrt(others), null);
    }

    public static IEnumerable<BudgetLine> Readings(UncertaintyModel model, BudgetPlace place, double force)
    {
        double fit = Math.Sqrt(place.Variance(model.ScatterCovariance) * (model.Shape?.ShareNotShown(place) ?? 1));
        yield return new BudgetLine(UncertaintyKind.Fit, CoreText.ForceBudgetFit, CoreText.ForceBudgetNormal, fit,
            model.ScatterDegreesOfFreedom);
        double rounded = Squares(model.StepShifts, place);
        if (rounded > 0)
            yield return new BudgetLine(UncertaintyKind.ConverterStep, CoreText.ForceBudgetConverterStep,
                CoreText.ForceBudgetRectangularStep, Math.Sqrt(rounded), null);
        double reading = model.ReadingStandardCounts ?? (model.ResolutionCounts / Math.Sqrt(6));

        // A coarse step bounds the rounding of the reading itself: that is a line of its own, so that k can come from its convolution with
        // the rest.
        double half = (model.ReadingStepCounts ?? 0) / 2, rest = Math.Sqrt(Math.Max(0, (reading * reading) - (half * half / 3)));
        yield return new BudgetLine(UncertaintyKind.Resolution, CoreText.ForceBudgetResolution, CoreText.ForceBudgetRectangularResolution,
            rest * place.SlopeNewtonsPerCount, model.ReadingDegreesOfFreedom * Math.Pow(rest / reading, 4));
        if (half > 0) yield return Rectangular(UncertaintyKind.Resolution, CoreText.ForceBudgetStepOfReading,
            half * place.SlopeNewtonsPerCount);
        if (model.ReadingGrowthCountsPerNewton is { } growth)
            yield return new BudgetLine(UncertaintyKind.Resolution, CoreText.ForceBudgetGrowingNoise, CoreText.ForceBudgetOfWindows,
                growth * force * place.SlopeNewtonsPerCount, model.ReadingGrowthDegreesOfFreedom);
    }

    public static IEnumerable<BudgetLine> Cell(UncertaintyModel model, double force, LoadWay way, List<Sentence> notes)
    {
        if (model.ReversibilityNewtons.Count > 0)
        {
            double gap = Interpolated(GapOf(model, force), force);
            double around = model.ReversibilityNewtons.Max(point => point.ValueNewtons) * ForceUncertainty.ShareOfReversibilityNotKnown;
            if (way == LoadWay.Falling)
                yield return new BudgetLine(UncertaintyKind.Reversibility, CoreText.ForceBudgetReversibilityBack, CoreText.ForceBudgetKnown,
                    gap, null)
                { IsKnown = true };
            yield return Rectangular(UncertaintyKind.Reversibility, CoreText.ForceBudgetReversibility, way == LoadWay.Unknown ? gap
                : around);
        }
        else notes.Add(CoreText.ForceReversibilityUnknown);

        // A pull takes its zero itself and is read at some moment within the time that a series takes, rectangular: the mean square of that
        // share is a third.
        if (model.ZeroReturnNewtons is { } returned)
            yield return new BudgetLine(UncertaintyKind.ZeroDrift, CoreText.ForceBudgetZeroDrift, CoreText.ForceBudgetPartOfReturns,
                returned / Math.Sqrt(3), model.ZeroReturns);
        else if (model.ZeroDriftNewtons is { } drift)
            yield return Rectangular(UncertaintyKind.ZeroDrift, CoreText.ForceBudgetZeroDrift, drift);
        else
        {
            notes.Add(CoreText.ForceZeroDriftAssumed(ForceUncertainty.AssumedZeroDriftPercent));
            yield return Rectangular(UncertaintyKind.ZeroDrift, CoreText.ForceBudgetZeroDrift,
                ForceUncertainty.AssumedZeroDriftPercent / 100 * model.GreatestReferenceNewtons) with
            { IsAssumed = true };
        }

        if (model.CreepPercent is { } creep) yield return Rectangular(UncertaintyKind.Creep, CoreText.ForceBudgetCreep, creep / 100
            * force);
        else notes.Add(CoreText.ForceCreepUnknown);
        yield return Temperature(model.Inputs, force, notes);
    }

    public static IEnumerable<BudgetLine> Shape(UncertaintyModel model, BudgetPlace place, double force, ForceReach reach,
        List<Sentence> notes)
    {
        if (model.Shape is null && reach == ForceReach.Inside) yield break;
        var inputs = model.Inputs;
        bool assumed = inputs.NonLinearityPercent is null, inside = reach == ForceReach.Inside;
        double percent = inputs.NonLinearityPercent
            ?? (inside ? ForceUncertainty.AssumedNonLinearityInsidePercent : ForceUncertainty.AssumedNonLinearityPercent);
        if (assumed) notes.Add(inside ? CoreText.ForceNonLinearityAssumed(percent) : CoreText.ForceNonLinearityAssumedBeyond(percent));
        else if (inputs.NonLinearityOfBestLine) percent *= 2;
        double fullScale = inputs.FullScaleNewtons ?? Math.Max(force, model.GreatestReferenceNewtons);
        if (inputs.FullScaleNewtons is null && reach != ForceReach.Inside) notes.Add(CoreText.ForceFullScaleAssumed);
        double depth = percent / 100 * fullScale;
        if (model.Shape is not { } shape)
        {
            yield return Rectangular(UncertaintyKind.Extrapolation, CoreText.ForceBudgetExtrapolation,
                BowAlone(model, force, depth, fullScale)) with
            { IsAssumed = assumed };
            yield break;
        }

        var (expected, standard) = shape.At(force, place, model.GreatestReferenceNewtons, model.Constant, depth, fullScale);
        if (Math.Abs(expected) > 0)
            yield return new BudgetLine(UncertaintyKind.Shape, CoreText.ForceBudgetShapeSeen, CoreText.ForceBudgetKnown, Math.Abs(expected),
                null)
            { IsKnown = true };
        yield return reach == ForceReach.Inside
            ? Rectangular(UncertaintyKind.Shape, CoreText.ForceBudgetShapeUnseen, standard * Math.Sqrt(3)) with { IsAssumed = assumed }
            : Rectangular(UncertaintyKind.Extrapolation, CoreText.ForceBudgetExtrapolation, standard * Math.Sqrt(3)) with
            { IsAssumed = assumed };
    }

    /// <summary>What the temperature is taken to do.</summary>
    internal static Sentence TemperatureAssumed(UncertaintyInputs inputs) =>
        CoreText.ForceTemperatureAssumed(inputs.TemperaturePercentPerKelvin ?? ForceUncertainty.AssumedTemperaturePercentPerKelvin,
        inputs.TemperaturePercentPerKelvin is not null, inputs.TemperatureSpreadKelvin ?? ForceUncertainty.AssumedTemperatureSpreadKelvin,
        inputs.TemperatureSpreadKelvin is not null);

    private static BudgetLine Temperature(UncertaintyInputs inputs, double force, List<Sentence> notes)
    {
        double effect = inputs.TemperaturePercentPerKelvin ?? ForceUncertainty.AssumedTemperaturePercentPerKelvin;
        double spread = inputs.TemperatureSpreadKelvin ?? ForceUncertainty.AssumedTemperatureSpreadKelvin;
        bool assumed = spread != 0 && effect != 0 && (inputs.TemperaturePercentPerKelvin is null || inputs.TemperatureSpreadKelvin is null);
        if (assumed) notes.Add(TemperatureAssumed(inputs));
        return Rectangular(UncertaintyKind.Temperature, CoreText.ForceBudgetTemperature, Math.Abs(effect * spread) / 100 * force) with
        { IsAssumed = assumed };
    }

    // Records of before kept the line that the fit lays through F² at the references: half-width e·max(1, 4·(F² − b·F − a)/FS²).
    private static double BowAlone(UncertaintyModel model, double force, double depth, double fullScale)
    {
        double line =
            model.BendLine.Count > 0 ? Polynomial.At(model.BendLine, model.Constant, force) : model.GreatestReferenceNewtons * force;
        return depth * Math.Max(1, 4 * ((force * force) - line) / (fullScale * fullScale));
    }

    private static BudgetLine Rectangular(UncertaintyKind kind, string name, double halfWidthNewtons) =>
        new(kind, name, CoreText.ForceBudgetRectangular, halfWidthNewtons / Math.Sqrt(3), null) { HalfWidthNewtons = halfWidthNewtons };

    private static double Squares(IEnumerable<ReferenceShift> shifts, BudgetPlace place) =>
        shifts.Sum(shift => Math.Pow(place.Shifted(shift.CoefficientShifts), 2));

    // At the greatest reference the readings turn round: a force that has come down from there has no gap there. One beyond it came from
    // who knows where.
    private static IReadOnlyList<ForcePoint> GapOf(UncertaintyModel model, double force) =>
        ForceUncertainty.ReachOf(model.GreatestReferenceNewtons, force) == ForceReach.Inside
        && model.ReversibilityNewtons[^1].ForceNewtons < model.GreatestReferenceNewtons
        ? [.. model.ReversibilityNewtons, new ForcePoint(model.GreatestReferenceNewtons, 0)] : model.ReversibilityNewtons;

    // A parabola through the three steps about the force, nothing at zero being one of them: the gap is a bow. Beyond the last step, in
    // proportion.
    private static double Interpolated(IReadOnlyList<ForcePoint> points, double force)
    {
        List<ForcePoint> fromZero = [new ForcePoint(0, 0), .. points];
        var last = fromZero[^1];
        if (force > last.ForceNewtons || fromZero.Count < 3) return last.ValueNewtons * force / last.ForceNewtons;
        int middle = Math.Clamp(fromZero.FindIndex(point => force <= point.ForceNewtons), 1, fromZero.Count - 2);
        double sum = 0;
        for (int i = middle - 1; i <= middle + 1; i++)
        {
            double weight = 1;
            for (int j = middle - 1; j <= middle + 1; j++)
            {
                if (j != i) weight *= (force - fromZero[j].ForceNewtons) / (fromZero[i].ForceNewtons - fromZero[j].ForceNewtons);
            }

            sum += weight * fromZero[i].ValueNewtons;
        }

        return Math.Clamp(sum, 0, 1.5 * fromZero.Max(point => point.ValueNewtons));
    }
}
