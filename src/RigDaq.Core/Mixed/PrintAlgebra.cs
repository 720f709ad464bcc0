using MathNet.Numerics.LinearAlgebra;

namespace RigDaq.Core.Mixed;

/// <summary>The inverse covariance of one print's stretch means, diag(u) − κ·u·uᵀ, and its products with the derivatives of the
/// covariance.</summary>
internal sealed class PrintAlgebra
{
    private readonly double[] _u, _a;
    private readonly double[][] _d;
    private readonly double[][,] _m;
    private readonly double _kappa, _sumA;

    /// <summary>At these components.</summary>
    public PrintAlgebra(StretchSample[] stretches, VarianceComponents v)
    {
        int n = stretches.Length;
        double[] ones = new double[n], perSpecimen = new double[n];
        (_u, _a) = (new double[n], new double[n]);
        double sum = 0;
        for (int s = 0; s < n; s++)
        {
            (ones[s], perSpecimen[s]) = (1, 1.0 / stretches[s].N);
            double d = v.Stretch + v.Specimen / stretches[s].N;
            LogDeterminant += Math.Log(d);
            sum += _u[s] = 1 / d;
        }

        double grown = 1 + v.Print * sum;
        LogDeterminant += Math.Log(grown);
        _kappa = v.Print / grown;
        for (int s = 0; s < n; s++) _sumA += _a[s] = _u[s] / grown;
        _d = [ones, ones, perSpecimen];
        _m = [Outer(_a, _a), Sandwich(ones), Sandwich(perSpecimen)];
    }

    /// <summary>log det V.</summary>
    public double LogDeterminant { get; }

    /// <summary>V⁻¹·x.</summary>
    public double[] Solve(double[] x)
    {
        double along = 0;
        for (int s = 0; s < x.Length; s++) along += _u[s] * x[s];
        return [.. x.Select((value, s) => _u[s] * (value - _kappa * along))];
    }

    /// <summary>G_i·q for each component.</summary>
    public double[][] Moved(double[] q)
    {
        double sum = q.Sum();
        return [[.. q.Select(_ => sum)], q, [.. q.Select((value, s) => value * _d[2][s])]];
    }

    /// <summary>tr(V⁻¹·G_i).</summary>
    public double Trace(int i)
    {
        if (i == 0) return _sumA;
        double trace = 0;
        for (int s = 0; s < _u.Length; s++) trace += (_u[s] - _kappa * _u[s] * _u[s]) * _d[i][s];
        return trace;
    }

    /// <summary>tr(V⁻¹·G_i·V⁻¹·G_j).</summary>
    public double Trace(int i, int j)
    {
        if (i == 0 && j == 0) return _sumA * _sumA;
        (double[,] m, double[] d) = j == 0 ? (_m[0], _d[i]) : (_m[i], _d[j]);
        double trace = 0;
        for (int s = 0; s < _u.Length; s++) trace += m[s, s] * d[s];
        return trace;
    }

    /// <summary>Adds Xᵀ·V⁻¹·X, Xᵀ·V⁻¹·G_i·V⁻¹·X and Xᵀ·V⁻¹·G_i·V⁻¹·G_j·V⁻¹·X.</summary>
    public void AddTo(int[] place, Matrix<double> inverse, Matrix<double>[] b, Matrix<double>[,] q)
    {
        int n = place.Length;
        for (int s = 0; s < n; s++)
        {
            for (int t = 0; t < n; t++) inverse[place[s], place[t]] += (s == t ? _u[s] : 0) - _kappa * _u[s] * _u[t];
        }

        for (int i = 0; i < _m.Length; i++)
        {
            Add(b[i], _m[i]);
            for (int j = 0; j < _m.Length; j++) Add(q[i, j], Triple(i, j));
        }

        void Add(Matrix<double> sum, double[,] part)
        {
            for (int s = 0; s < n; s++)
            {
                for (int t = 0; t < n; t++) sum[place[s], place[t]] += part[s, t];
            }
        }
    }

    /// <summary>V⁻¹·D·V⁻¹ for a diagonal D.</summary>
    private double[,] Sandwich(double[] d)
    {
        int n = d.Length;
        double c = 0;
        for (int s = 0; s < n; s++) c += _u[s] * _u[s] * d[s];
        var m = new double[n, n];
        for (int s = 0; s < n; s++)
        {
            for (int t = 0; t < n; t++)
                m[s, t] = (s == t ? _u[s] * _u[s] * d[s] : 0) + _kappa * _u[s] * _u[t] * (_kappa * c - _u[s] * d[s] - _u[t] * d[t]);
        }

        return m;
    }

    /// <summary>V⁻¹·G_i·V⁻¹·G_j·V⁻¹.</summary>
    private double[,] Triple(int i, int j)
    {
        int n = _u.Length;
        if (j == 0)
        {
            // G_j = 1·1ᵀ: (V⁻¹·G_i·V⁻¹·1)·(V⁻¹·1)ᵀ.
            double[] left = new double[n];
            for (int s = 0; s < n; s++)
            {
                for (int t = 0; t < n; t++) left[s] += _m[i][s, t];
            }

            return Outer(left, _a);
        }

        // M_i·D_j·V⁻¹ = M_i·D_j·diag(u) − κ·(M_i·D_j·u)·uᵀ.
        var product = new double[n, n];
        for (int s = 0; s < n; s++)
        {
            double along = 0;
            for (int t = 0; t < n; t++) along += product[s, t] = _m[i][s, t] * _d[j][t] * _u[t];
            for (int t = 0; t < n; t++) product[s, t] -= _kappa * along * _u[t];
        }

        return product;
    }

    private static double[,] Outer(double[] x, double[] y)
    {
        var product = new double[x.Length, y.Length];
        for (int s = 0; s < x.Length; s++)
        {
            for (int t = 0; t < y.Length; t++) product[s, t] = x[s] * y[t];
        }

        return product;
    }
}
