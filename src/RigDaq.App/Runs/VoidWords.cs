using RigDaq.Core.Runs;

namespace RigDaq.App.Runs;

/// <summary>The words for why a run is left out, as they are typed and as programs read them.</summary>
internal static class VoidWords
{
    private static readonly (string Word, VoidKind Kind)[] Words =
    [
        ("grip-failure", VoidKind.GripFailure), ("slip", VoidKind.Slip), ("mis-cut", VoidKind.MisCut),
            ("wrong-specimen", VoidKind.WrongSpecimen), ("rig-fault", VoidKind.RigFault),
    ];

    /// <summary>All of them.</summary>
    public static IEnumerable<string> All => Words.Select(w => w.Word);

    /// <summary>The reason that a word stands for; null where it is none of the list.</summary>
    public static VoidKind? Find(string word) => Words.Where(w => w.Word == word).Select(w => (VoidKind?)w.Kind).FirstOrDefault();

    /// <summary>The word of a reason.</summary>
    public static string Word(VoidKind kind) => Words.Single(w => w.Kind == kind).Word;
}
