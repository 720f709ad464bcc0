namespace RigDaq.Rig.Sequencing;

/// <summary>A zero that was taken and what it is good for. Null where none was taken with this device.</summary>
internal abstract record SequenceZero
{
    private SequenceZero(ZeroReading reading) => Reading = reading;

    public ZeroReading Reading { get; init; }

    /// <summary>The next pull has it.</summary>
    public sealed record Settled(ZeroReading Reading) : SequenceZero(Reading);

    /// <summary>A pull has had it. Another one is taken where nothing joins the grips, else it stands for so many pulls.</summary>
    public sealed record Standing(ZeroReading Reading) : SequenceZero(Reading);

    /// <summary>It cannot stand: another one has to be taken.</summary>
    public sealed record InDoubt(ZeroReading Reading) : SequenceZero(Reading);

    /// <summary>It cannot stand, and the one after it lay too far from it: who has been told takes the next one as it is.</summary>
    public sealed record Refused(ZeroReading Reading, double ShiftNewtons) : SequenceZero(Reading);

    public SequenceZero WithPull() => this with { Reading = Reading with { Pulls = Reading.Pulls + 1 } };

    /// <summary>Another one has to be taken, whatever it was good for.</summary>
    public SequenceZero Doubted() => this is Refused ? this : new InDoubt(Reading);

    public SequenceZero AfterPull(bool wasOverload) => wasOverload || this is not (Settled or Standing) ? Doubted() : new Standing(Reading);
}

/// <summary>The mean of a still window without a force.</summary>
/// <param name="Counts">The mean.</param>
/// <param name="DeviationCounts">The standard deviation of the counts in the window.</param>
/// <param name="Pulls">How many pulls have begun with it.</param>
internal sealed record ZeroReading(double Counts, double DeviationCounts, int Pulls = 0);
