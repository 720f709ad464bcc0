using RigDaq.Core.Calibration.Quality;
using RigDaq.Text;

namespace RigDaq.Core.Tests.Calibration.Quality;

public sealed class ClassLimitsTest
{
    // ISO 7500-1, table of classes (from memory); OIML R 65 publishes the same limits for its classes (from memory). All in per cent.
    [Theory]
    [InlineData(0, 0.5, 0.5, 0.5, 0.75, 0.05, 0.25)]
    [InlineData(1, 1.0, 1.0, 1.0, 1.5, 0.1, 0.5)]
    [InlineData(2, 2.0, 2.0, 2.0, 3.0, 0.2, 1.0)]
    [InlineData(3, 3.0, 3.0, 3.0, 4.5, 0.3, 1.5)]
    public void Has_the_published_limits(int row, double value, double q, double b, double v, double f0, double a) =>
        Assert.Equal(new ClassLimits.Limits(value, q, b, v, f0, a), ClassLimits.ByClass[row]);

    [Fact]
    public void Reaches_down_only_as_far_as_every_step_meets_it()
    {
        StepFigures[] steps = [Step(5, 0.4), Step(10, 1.2), Step(20, 0.9), Step(40, 0.2), Step(60, 0.2), Step(80, 0.2), Step(100, 0.2)];
        Assert.Equal(new CalibrationClass(1, 20, 100), ClassLimits.Of(steps, 0.01, out _));
    }

    [Theory]
    [InlineData(0.04, 0.5)]
    [InlineData(0.09, 1)]
    [InlineData(-0.25, 3)]
    public void Counts_the_zero_error(double zeroError, double expected) =>
        Assert.Equal(expected, ClassLimits.Of(Even(), zeroError, out _)!.Value);

    [Fact]
    public void Gives_none_beyond_class_3_and_says_so()
    {
        Assert.Null(ClassLimits.Of(Even(), 0.31, out Sentence? whyNot));
        Assert.Equal("classNotReached", whyNot?.Code);
    }

    [Fact]
    public void Needs_five_steps_over_the_upper_four_fifths()
    {
        StepFigures[] four = [Step(5, 0), Step(10, 0), Step(25, 0), Step(50, 0), Step(75, 0), Step(100, 0)];
        Assert.Null(ClassLimits.Of(four, 0, out Sentence? whyNot));
        Assert.Equal("classOfTooFewSteps", whyNot?.Code);
    }

    private static StepFigures[] Even() => [Step(20, 0.1), Step(40, 0.1), Step(60, 0.1), Step(80, 0.1), Step(100, 0.1)];

    private static StepFigures Step(double force, double error) => new()
    {
        ReferenceNewtons = force,
        RisingReadings = 3,
        IndicatedNewtons = force,
        IndicationErrorPercent = error,
        RepeatabilityPercent = 0.1,
        ReversibilityPercent = 0.1,
        ResolutionPercent = 0.1,
    };
}
