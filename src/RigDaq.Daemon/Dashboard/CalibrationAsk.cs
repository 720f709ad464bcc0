using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;

namespace RigDaq.Daemon.Dashboard;

/// <summary>What a person enters before a calibration: the weights, where the rig stands, how much is to be done.</summary>
internal sealed record CalibrationAsk
{
    public string Person { get; init; } = "";

    public string Place { get; init; } = "";

    public string Cell { get; init; } = "";

    public string Remarks { get; init; } = "";

    public double? TemperatureCelsius { get; init; }

    public double? FullScaleNewtons { get; init; }

    public double? NonLinearityPercent { get; init; }

    /// <summary>Whether the data sheet means the best straight line, and not the terminal line.</summary>
    public bool NonLinearityOfBestLine { get; init; }

    public double? TemperaturePercentPerKelvin { get; init; }

    public double? TemperatureSpreadKelvin { get; init; }

    public string Amplifier { get; init; } = "";

    /// <summary>The weights hang on a lever of this ratio; null for none.</summary>
    public double? LeverRatio { get; init; }

    public double? LeverStandardUncertainty { get; init; }

    public double? LatitudeDegrees { get; init; }

    public double? HeightMetres { get; init; }

    public double? GravityMetresPerSecondSquared { get; init; }

    public IReadOnlyList<WeightAsk> Weights { get; init; } = [];

    public int Steps { get; init; } = 5;

    public int PreloadCycles { get; init; } = 3;

    public int RisingSeries { get; init; } = 3;

    public int FallingSeries { get; init; } = 1;

    public double DwellSeconds { get; init; } = 30;

    public double ZeroReturnSeconds { get; init; } = 30;

    public double WarmUpSeconds { get; init; } = 60;

    /// <summary>The cautions about weights were read.</summary>
    public bool CautionsRead { get; init; }

    internal UncertaintyInputs Inputs => new()
    {
        FullScaleNewtons = FullScaleNewtons,
        NonLinearityPercent = NonLinearityPercent,
        NonLinearityOfBestLine = NonLinearityOfBestLine,
        TemperaturePercentPerKelvin = TemperaturePercentPerKelvin,
        TemperatureSpreadKelvin = TemperatureSpreadKelvin,
    };

    internal AirDensity Air => AirDensity.AtHeight(HeightMetres ?? 0);

    /// <exception cref="ArgumentException">Neither gravity nor latitude was entered, or one is out of range.</exception>
    internal LocalGravity Gravity() => GravityMetresPerSecondSquared is { } g
        ? LocalGravity.Entered(g, LocalGravity.ComputedRelativeStandardUncertainty * g)
        : LatitudeDegrees is { } latitude
            ? LocalGravity.At(latitude, HeightMetres ?? 0)
            : throw new ArgumentException(PageText.Of("answers.gravityMissing"));

    /// <exception cref="ArgumentException">A figure is out of its range; the message says which.</exception>
    internal GuidePlan Plan() => GuidePlan.Checked(new GuidePlan
    {
        Steps = [.. StepPlanner.Suggest([.. Weights.Select(weight => weight.ToWeight())], Gravity(), Air, Steps).Select(ThroughLever)],
        PreloadCycles = PreloadCycles,
        RisingSeries = RisingSeries,
        FallingSeries = FallingSeries,
        DwellSeconds = DwellSeconds,
        ZeroReturnSeconds = ZeroReturnSeconds,
        WarmUpSeconds = WarmUpSeconds,
    });

    private ReferenceForce ThroughLever(ReferenceForce hanging) => LeverRatio is not { } ratio ? hanging
        : ReferenceForces.ThroughLever(hanging, ratio, LeverStandardUncertainty ?? throw new ArgumentException(PageText.Of("answers.leverUncertaintyMissing")), "the lever");

    internal CalibrationCircumstances Circumstances(double? sampleRateHertz) => new()
    {
        Person = Person,
        Place = Place,
        Cell = Cell,
        AmplifierSetting = Amplifier,
        Remarks = Remarks,
        TemperatureCelsius = TemperatureCelsius,
        SampleRateHertz = sampleRateHertz,
        Gravity = Gravity(),
        Air = Air,
        Weights = [.. Weights.Select(weight => weight.ToWeight())],
    };
}

/// <summary>One weight as it is entered.</summary>
internal sealed record WeightAsk
{
    public string Name { get; init; } = "";

    public double Kilograms { get; init; }

    /// <summary>"E2" to "M3", "certificate" or "own".</summary>
    public string Basis { get; init; } = "own";

    /// <summary>The person's own ±, or the certificate's expanded uncertainty (k = 2), in grams.</summary>
    public double? PlusMinusGrams { get; init; }

    public string Certificate { get; init; } = "";

    /// <exception cref="ArgumentException">A figure is out of its range; the message says which.</exception>
    internal Weight ToWeight()
    {
        const double KilogramsPerGram = 1e-3;
        string name = Name.Trim();
        return Basis switch
        {
            "own" => Weight.Improvised(name, Kilograms, (PlusMinusGrams ?? 0) * KilogramsPerGram),
            "certificate" => Weight.OfCertificate(name, Kilograms, (PlusMinusGrams ?? 0) * KilogramsPerGram, Certificate),
            _ when Enum.TryParse(Basis, out WeightClass known) && Enum.IsDefined(known) => Weight.OfClass(name, Kilograms, known),
            _ => throw new ArgumentException(PageText.Of("answers.basisNotKnown", ("basis", Basis), ("name", name))),
        };
    }
}

/// <summary>What a person does to a calibration.</summary>
internal sealed record CalibrationStep
{
    /// <summary>The name of a <see cref="PersonAction"/>.</summary>
    public string Action { get; init; } = "";

    /// <summary>The degree to accept, 1 to 3.</summary>
    public int Degree { get; init; } = 1;
}
