namespace RigDaq.Rig.Tests.Sequencing;

/// <summary>
/// What is in a world's grips, and whether it puts a force on the cell: the truth that no zero may hold anything of. It knows nothing of
/// what the sequencer believes.
/// </summary>
internal sealed class WorldGrips(Random random)
{
    private Piece _piece = Piece.None;
    private bool _halvesAreLong;

    private enum Piece
    {
        None,

        /// <summary>Clamped at both ends, loaded or not.</summary>
        Whole,

        /// <summary>Torn or sliding, and not all of it has let go.</summary>
        HangsTogether,

        /// <summary>Two halves, one in each grip.</summary>
        Halves,
    }

    /// <summary>The crosshead stands where the piece parted, or further out.</summary>
    private bool IsOut { get; set; }

    /// <summary>A feeder's sensor sees whole pieces and what is left of them.</summary>
    public bool HoldsSomething => _piece != Piece.None;

    /// <summary>Whether the cell feels it: halves that stretched before they broke push at each other once they are back.</summary>
    public bool AreJoined => _piece is Piece.Whole or Piece.HangsTogether || (_piece == Piece.Halves && _halvesAreLong && !IsOut);

    public void Clamp() => _piece = Piece.Whole;

    public void Empty() => _piece = Piece.None;

    /// <summary>Hands are in and do what nobody asked for: put a piece in, take one out, or nothing.</summary>
    public void Meddle()
    {
        int what = random.Next(3);
        if (what == 0) Clamp();
        else if (what == 1) Empty();
    }

    /// <summary>It parts under the pull.</summary>
    public void Break(bool wholly)
    {
        if (_piece == Piece.None) return;
        _piece = wholly ? Piece.Halves : Piece.HangsTogether;
        _halvesAreLong = random.Next(2) == 0;
        IsOut = true;
    }

    /// <summary>What hung together is drawn apart: most of it lets go, a thread or a sliding end may not.</summary>
    public void DrawApart()
    {
        if (_piece == Piece.HangsTogether && random.Next(3) > 0) _piece = Piece.Halves;
    }

    /// <summary>The crosshead goes towards the start, by motor or by a hand on the handle.</summary>
    public void GoBack() => IsOut = false;
}
