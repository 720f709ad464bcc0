using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Trace;
using RigDaq.Tests.Shared;

namespace RigDaq.Core.Tests.Specimens;

/// <summary>Small studies and runs to test with.</summary>
internal static class Studies
{
    public static readonly DateTimeOffset Start = new(2026, 3, 2, 9, 0, 0, TimeSpan.Zero);

    /// <summary>Two conditions of one material at one setting, a print each.</summary>
    public static Study Two(int specimens = 3, SectionBasis basis = SectionBasis.PerSpecimen) => new()
    {
        Id = "fan",
        Name = "Fan",
        CreatedAt = Start,
        SettingName = "nozzle temperature",
        SettingUnit = "°C",
        SectionBasis = basis,
        ReferenceSetting = 210,
        ReferenceCondition = "fan on",
        Prints = [Print("A", "fan on"), Print("B", "fan off")],
        Specimens = [.. Enumerable.Range(1, 2 * specimens).Select(i => new Specimen
        {
            Id = $"{(i <= specimens ? "A" : "B")}-{(i - 1) % specimens + 1:00}",
            PrintId = i <= specimens ? "A" : "B",
            Setting = 210,
            Order = i,
            Section = Flat(10, 4),
        })],
    };

    public static Print Print(string id, string condition, decimal? setting = 210, string material = "Alder") =>
        Core.Specimens.Print.Of(id, new GroupKey(material, condition, setting));

    public static SectionMeasurement Flat(double widthMillimetres, double thicknessMillimetres) =>
        new() { WidthsMillimetres = [widthMillimetres], ThicknessesMillimetres = [thicknessMillimetres] };

    public static Run Run(string specimenId, double? peakForceNewtons, PullEnding ending = PullEnding.Broken, RunVoid? voided = null,
        int number = 0) => new()
        {
            Head = AnyPull.Head with { RunId = $"run-{specimenId}-{number}", StudyId = "fan", SpecimenId = specimenId, StartedAt = Start },
            Ending = ending,
            EndedAt = Start,
            RevisedAt = Start,
            Void = voided,
            Reading = peakForceNewtons is { } force ? new TraceReading { Ending = ending, PeakForceNewtons = force } : null,
        };
}
