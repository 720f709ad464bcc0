using System.Security.Cryptography;
using System.Text;

namespace RigDaq.App.Access;

/// <summary>
/// What lets somebody look from elsewhere: a link that holds for everybody who has it, until it is withdrawn. It outlives the program, so
/// that a phone on a stand finds its rig again. Safe for several threads.
/// </summary>
/// <param name="dataFolder">Where it is kept.</param>
internal sealed class LookLink(string dataFolder) : IDisposable
{
    private const int TokenBytes = 24;

    private readonly string _file = Path.Combine(AccessFolder.Of(dataFolder), "look-link");
    private readonly Lock _lock = new();
    private string? _token;
    private CancellationTokenSource _valid = new();

    /// <summary>What the link holds; drawn where there is none yet.</summary>
    /// <exception cref="IOException">It could not be kept, and would not hold after the next start.</exception>
    public string Token
    {
        get
        {
            lock (_lock) return _token ??= Kept() ?? Draw();
        }
    }

    /// <summary>Ends when the link of now is withdrawn.</summary>
    public CancellationToken Withdrawn
    {
        get
        {
            lock (_lock) return _valid.Token;
        }
    }

    /// <summary>Whether this is what the link holds.</summary>
    public bool Fits(string given) =>
        CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(given), Encoding.UTF8.GetBytes(Token));

    /// <summary>Draws another one; whoever looks by the one before looks no longer.</summary>
    /// <exception cref="IOException">It could not be kept; the one before still holds.</exception>
    public void Withdraw()
    {
        CancellationTokenSource before;
        lock (_lock)
        {
            _token = Draw();
            before = _valid;
            _valid = new CancellationTokenSource();
        }

        before.Cancel();
        before.Dispose();
    }

    /// <inheritdoc/>
    public void Dispose() => _valid.Dispose();

    private string? Kept()
    {
        string kept = Encoding.ASCII.GetString(AccessFolder.Read(_file) ?? []);
        return kept.Length == 2 * TokenBytes && kept.All(char.IsAsciiHexDigitLower) ? kept : null;
    }

    private string Draw()
    {
        string drawn = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(TokenBytes));
        AccessFolder.Write(_file, Encoding.ASCII.GetBytes(drawn));
        return drawn;
    }
}
