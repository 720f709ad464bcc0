using RigDaq.Core;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;

namespace RigDaq.App.Calibrations;

/// <summary>What a person enters before a calibration: the weights, where the rig stands, how much is to be done.</summary>
internal sealed record CalibrationRequest : IPageRequest
{
    public string Person { get; set; } = "";

    public string Place { get; set; } = "";

    public string Cell { get; set; } = "";

    public string Remarks { get; set; } = "";

    public double? TemperatureCelsius { get; set; }

    public double? FullScaleNewtons { get; set; }

    public double? NonLinearityPercent { get; set; }

    /// <summary>Whether the data sheet means the best straight line, and not the terminal line.</summary>
    public bool NonLinearityOfBestLine { get; set; }

    public double? TemperaturePercentPerKelvin { get; set; }

    public double? TemperatureSpreadKelvin { get; set; }

    public string Amplifier { get; set; } = "";

    /// <summary>The weights hang on a lever of this ratio; null for none.</summary>
    public double? LeverRatio { get; set; }

    public double? LeverStandardUncertainty { get; set; }

    public double? LatitudeDegrees { get; set; }

    public double? HeightMetres { get; set; }

    public double? GravityMetresPerSecondSquared { get; set; }

    public IReadOnlyList<WeightRequest> Weights { get; set; } = [];

    public int Steps { get; set; } = 5;

    public int PreloadCycles { get; set; } = 3;

    public int RisingSeries { get; set; } = 3;

    public int FallingSeries { get; set; } = 1;

    public double DwellSeconds { get; set; } = 30;

    public double ZeroReturnSeconds { get; set; } = 30;

    public double WarmUpSeconds { get; set; } = 60;

    /// <summary>The cautions about weights were read.</summary>
    public bool CautionsRead { get; set; }

    internal UncertaintyInputs Inputs => new()
    {
        FullScaleNewtons = FullScaleNewtons,
        NonLinearityPercent = NonLinearityPercent,
        NonLinearityOfBestLine = NonLinearityOfBestLine,
        TemperaturePercentPerKelvin = TemperaturePercentPerKelvin,
        TemperatureSpreadKelvin = TemperatureSpreadKelvin,
    };

    internal AirDensity Air => AirDensity.AtHeight(HeightMetres ?? 0);

    /// <exception cref="RefusalException">Neither gravity nor latitude was entered, or one is out of range.</exception>
    internal LocalGravity Gravity() => GravityMetresPerSecondSquared is { } g
        ? LocalGravity.Entered(g, LocalGravity.ComputedRelativeStandardUncertainty * g)
        : LatitudeDegrees is { } latitude
            ? LocalGravity.At(latitude, HeightMetres ?? 0)
            : throw Refusal.Of("answers.gravityMissing");

    /// <exception cref="RefusalException">A figure is out of its range; the message says which.</exception>
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
        : ReferenceForces.ThroughLever(hanging, ratio, LeverStandardUncertainty ?? throw Refusal.Of("answers.leverUncertaintyMissing"),
            ReferenceForces.SoleLever);

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
internal sealed record WeightRequest : IPageRequest
{
    public string Name { get; set; } = "";

    public double Kilograms { get; set; }

    /// <summary>"E2" to "M3", "certificate" or "own".</summary>
    public string Basis { get; set; } = "own";

    /// <summary>The person's own ±, or the certificate's expanded uncertainty (k = 2), in grams.</summary>
    public double? PlusMinusGrams { get; set; }

    public string Certificate { get; set; } = "";

    /// <exception cref="RefusalException">A figure is out of its range; the message says which.</exception>
    internal Weight ToWeight()
    {
        const double KilogramsPerGram = 1e-3;
        string name = Name.Trim();
        return Basis switch
        {
            "own" => Weight.Improvised(name, Kilograms, (PlusMinusGrams ?? 0) * KilogramsPerGram),
            "certificate" => Weight.OfCertificate(name, Kilograms, (PlusMinusGrams ?? 0) * KilogramsPerGram, Certificate),
            _ when Enum.TryParse(Basis, out WeightClass known) && Enum.IsDefined(known) => Weight.OfClass(name, Kilograms, known),
            _ => throw Refusal.Of("answers.basisNotKnown", ("basis", Basis), ("name", name)),
        };
    }
}
