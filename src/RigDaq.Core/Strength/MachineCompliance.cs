namespace RigDaq.Core.Strength;

/// <summary>How far frame, cell and grips give under load: measured once with a stiff bar, a line through position against force.</summary>
/// <param name="MillimetresPerNewton">0 or more.</param>
public sealed record MachineCompliance(double MillimetresPerNewton)
{
    /// <summary>The fewest samples of the bar's trace that a line is put through.</summary>
    public const int SamplesMin = 10;

    /// <summary>Measures it from a pull of a bar so stiff that all extension is the machine's.</summary>
    /// <param name="positionsMillimetres">Of the crosshead.</param>
    /// <param name="forcesNewtons">At each position. The lower fifth, where slack is still taken up, is left out.</param>
    /// <exception cref="ArgumentException">Too few samples, or the force does not rise with the position.</exception>
    public static MachineCompliance FromStiffBar(IReadOnlyList<double> positionsMillimetres, IReadOnlyList<double> forcesNewtons)
    {
        if (positionsMillimetres.Count != forcesNewtons.Count)
            throw new ArgumentException("One force is needed for each position.", nameof(forcesNewtons));
        double greatest = forcesNewtons.DefaultIfEmpty().Max();
        int[] loaded = [.. Enumerable.Range(0, forcesNewtons.Count).Where(i => forcesNewtons[i] >= greatest / 5)];
        if (loaded.Length < SamplesMin || !(greatest > 0))
            throw new ArgumentException($"At least {SamplesMin} samples under load are needed.", nameof(forcesNewtons));
        (_, double slope) = MathNet.Numerics.Fit.Line(
            [.. loaded.Select(i => forcesNewtons[i])], [.. loaded.Select(i => positionsMillimetres[i])]);
        if (!(slope >= 0) || !double.IsFinite(slope))
            throw new ArgumentException("The force does not rise with the position: check the sign of the crosshead.", nameof(positionsMillimetres));
        return new MachineCompliance(slope);
    }
}
