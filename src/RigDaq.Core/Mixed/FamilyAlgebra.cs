using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Double;

namespace RigDaq.Core.Mixed;

/// <summary>
/// All that one family (material × condition) gives to likelihood, information and covariance at given variance components. With
/// V the covariance of its stretch means, X their groups and G_i = ∂V/∂(component i): a print's V is diagonal plus the print's variance
/// everywhere, so that its inverse is diag(w) − κ·w·wᵀ (Sherman and Morrison 1950); nothing larger than groups × groups is factored.
/// </summary>
internal sealed class FamilyAlgebra
{
    private const int Count = VarianceComponents.Count;
    private readonly StretchFamily _family;
    private readonly double[] _centre;
    private readonly double[][] _y;
    private readonly int[][] _place;
    private readonly double[] _trace = new double[Count];

    /// <summary>Prepares a family.</summary>
    public FamilyAlgebra(StretchFamily family)
    {
        _family = family;
        var places = family.Groups.Select((group, place) => (group, place)).ToDictionary(g => g.group, g => g.place);
        _place = [.. family.Prints.Select(print => print.Select(s => places[s.Group]).ToArray())];

        // Deviations from each group's plain mean: contrasts of near numbers then lose no digits.
        _centre = new double[family.Groups.Count];
        var stretches = new int[family.Groups.Count];
        foreach (StretchSample s in family.Prints.SelectMany(print => print)) stretches[places[s.Group]]++;
        foreach (StretchSample s in family.Prints.SelectMany(print => print))
            _centre[places[s.Group]] += s.Mean / stretches[places[s.Group]];
        _y = [.. family.Prints.Select(print => print.Select(s => s.Mean - _centre[places[s.Group]]).ToArray())];
    }

    /// <summary>Log determinants and the quadratic form of the residual: this family's part of −2 log of the restricted
    /// likelihood.</summary>
    public double Deviance { get; private set; }

    /// <summary>tr(P·G_i) − yᵀ·P·G_i·P·y.</summary>
    public double[] Gradient { get; } = new double[Count];

    /// <summary>tr(P·G_i·P·G_j).</summary>
    public double[,] Traces { get; } = new double[Count, Count];

    /// <summary>yᵀ·P·G_i·P·G_j·P·y.</summary>
    public double[,] Quadratics { get; } = new double[Count, Count];

    /// <summary>The covariance of the group means, (Xᵀ·V⁻¹·X)⁻¹.</summary>
    public Matrix<double> Phi { get; private set; } = null!;

    /// <summary>Xᵀ·V⁻¹·G_i·V⁻¹·X.</summary>
    public Matrix<double>[] B { get; } = new Matrix<double>[Count];

    /// <summary>Xᵀ·V⁻¹·G_i·V⁻¹·G_j·V⁻¹·X.</summary>
    public Matrix<double>[,] Q { get; } = new Matrix<double>[Count, Count];

    /// <summary>The group means by generalised least squares, in the order of the family's groups.</summary>
    public double[] Means { get; private set; } = [];

    /// <summary>Computes everything at these components.</summary>
    /// <returns>False where the group means' covariance cannot be had.</returns>
    public bool Evaluate(VarianceComponents v)
    {
        int groups = _family.Groups.Count, prints = _family.Prints.Count;
        var a = new DenseMatrix(groups, groups);
        double[] rightSide = new double[groups];
        for (int i = 0; i < Count; i++)
        {
            B[i] = new DenseMatrix(groups, groups);
            _trace[i] = 0;
            for (int j = 0; j < Count; j++) (Q[i, j], Traces[i, j], Quadratics[i, j]) = (new DenseMatrix(groups, groups), 0, 0);
        }

        Deviance = 0;
        var parts = new PrintAlgebra[prints];
        for (int p = 0; p < prints; p++)
        {
            parts[p] = new PrintAlgebra(_family.Prints[p], v);
            Deviance += parts[p].LogDeterminant;
            double[] solved = parts[p].Solve(_y[p]);
            for (int s = 0; s < solved.Length; s++) rightSide[_place[p][s]] += solved[s];
            parts[p].AddTo(_place[p], a, B, Q);
            for (int i = 0; i < Count; i++)
            {
                _trace[i] += parts[p].Trace(i);
                for (int j = 0; j < Count; j++) Traces[i, j] += parts[p].Trace(i, j);
            }
        }

        if (!Factor(a)) return false;
        Means = [.. Phi.Multiply(Vector<double>.Build.DenseOfArray(rightSide))];
        Residuals(parts);
        Traced();
        for (int g = 0; g < groups; g++) Means[g] += _centre[g];
        return true;
    }

    private bool Factor(DenseMatrix a)
    {
        try
        {
            var cholesky = a.Cholesky();
            Deviance += cholesky.DeterminantLn;
            Phi = cholesky.Solve(DenseMatrix.CreateIdentity(a.RowCount));
            return double.IsFinite(Deviance);
        }
        catch (ArgumentException)
        {
            return false;
        }
    }

    /// <summary>q = P·y, then yᵀPG_iPy = qᵀG_iq and yᵀPG_iPG_jPy = (G_iq)ᵀ·P·(G_jq).</summary>
    private void Residuals(PrintAlgebra[] parts)
    {
        var spread = new Vector<double>[Count];
        for (int i = 0; i < Count; i++) (spread[i], Gradient[i]) = (new DenseVector(_centre.Length), 0);
        for (int p = 0; p < parts.Length; p++)
        {
            int[] place = _place[p];
            double[] residual = [.. _y[p].Select((y, s) => y - Means[place[s]])];
            double[] q = parts[p].Solve(residual);
            for (int s = 0; s < q.Length; s++) Deviance += residual[s] * q[s];
            double[][] moved = parts[p].Moved(q), solved = [.. moved.Select(parts[p].Solve)];
            for (int i = 0; i < Count; i++)
            {
                for (int s = 0; s < q.Length; s++)
                {
                    Gradient[i] -= q[s] * moved[i][s];
                    spread[i][place[s]] += solved[i][s];
                    for (int j = 0; j < Count; j++) Quadratics[i, j] += moved[i][s] * solved[j][s];
                }
            }
        }

        for (int i = 0; i < Count; i++)
        {
            for (int j = 0; j < Count; j++) Quadratics[i, j] -= spread[i] * (Phi * spread[j]);
        }
    }

    private void Traced()
    {
        Matrix<double>[] phiB = [.. B.Select(b => Phi * b)];
        for (int i = 0; i < Count; i++)
        {
            Gradient[i] += _trace[i] - phiB[i].Trace();
            for (int j = 0; j < Count; j++)
                Traces[i, j] += -2 * Phi.PointwiseMultiply(Q[i, j]).ColumnSums().Sum() + phiB[i].PointwiseMultiply(phiB[j].Transpose())
                    .ColumnSums().Sum();
        }
    }
}
