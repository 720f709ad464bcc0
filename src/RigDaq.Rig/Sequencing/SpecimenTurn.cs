using RigDaq.Text;

namespace RigDaq.Rig.Sequencing;

/// <summary>The turn of the current specimen: all that is forgotten when the next one's begins, but for a hold that is owed.</summary>
/// <param name="Index">Which one of the plan it is.</param>
internal sealed record SpecimenTurn(int Index)
{
    /// <summary>The specimen is in the grips: a feeder, a guard that opened and closed, or a person said so.</summary>
    public bool Loaded { get; init; }

    /// <summary>The feeder has put it in, whatever became of it since.</summary>
    public bool Fed { get; init; }

    /// <summary>How often it has been pulled.</summary>
    public int Pulls { get; init; }

    /// <summary>Null before it was measured.</summary>
    public ClampingForce? Clamp { get; init; }

    /// <summary>Why to hold once the crosshead is back and the run of the last pull is stored; null where the sequence goes on.</summary>
    public Sentence? HoldOwed { get; init; }
}

/// <summary>The force that clamping put on a specimen.</summary>
/// <param name="Newtons">As last measured.</param>
/// <param name="Reliefs">How often it was relieved.</param>
internal sealed record ClampingForce(double Newtons, int Reliefs)
{
    public ClampingForce Unrelieved() => this with { Reliefs = 0 };
}
