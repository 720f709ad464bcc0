using RigDaq.Core.Specimens;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>An invented study in the page's archive, nothing of it measured.</summary>
internal static class SectionStudy
{
    public const string Id = "kestrel-sections";

    public static void Store(PageHost host) => host.Archive.Studies.Save(
        new Study
        {
            Id = Id,
            Name = "Alder, cooling fan",
            CreatedAt = DateTimeOffset.UnixEpoch,
            Prints = [Print.Of("P1", new GroupKey("Alder", "fan off", 205m)), Print.Of("P2", new GroupKey("Alder", "fan on", 205m))],
            Specimens = [Piece("P1-01", "P1", 2), Piece("P1-02", "P1", 3), Piece("P2-01", "P2", 1)],
        },
        "made");

    public static Specimen Find(PageHost host, string specimenId)
        => host.Archive.Studies.Find(Id)!.Specimens.Single(s => s.Id == specimenId);

    private static Specimen Piece(string id, string printId, int order)
        => new() { Id = id, PrintId = printId, Setting = 205m, Order = order };
}
