using RigDaq.Core.Specimens;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>An invented study of two materials and two conditions in the page's archive; its prints hold three settings, or are one a
/// setting.</summary>
internal static class StretchStudy
{
    public const string Id = "kestrel-nozzle";

    /// <summary>P01 Alder fan on, P02 Alder fan off, P03 Birch fan on, P04 Birch fan off; separate: P01 and P02 are Alder at 200, P03 and
    /// P04 at 220.</summary>
    public static Study Store(PageHost host, bool separate = false)
    {
        Study study = new StudyPlan
        {
            Id = Id,
            Name = "Alder and Birch, nozzle temperature",
            Materials = [new MaterialRecord("Alder", "PLA"), new MaterialRecord("Birch", "PETG")],
            Conditions = ["fan on", "fan off"],
            Settings = [200, 220, 240],
            SettingName = "nozzle temperature",
            SettingUnit = "°C",
            SpecimensPerStretch = 2,
            SeparatePrints = separate,
            ReferenceCondition = "fan on",
            Seed = 3,
        }.Make(DateTimeOffset.UnixEpoch);
        host.Archive.Studies.Save(study, "made");
        return study;
    }

    public static Study Find(PageHost host) => host.Archive.Studies.Find(Id)!;
}
