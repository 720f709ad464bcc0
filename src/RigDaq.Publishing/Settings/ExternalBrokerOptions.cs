using RigDaq.Publishing.Text;

namespace RigDaq.Publishing.Settings;

/// <summary>A broker elsewhere.</summary>
public sealed class ExternalBrokerOptions
{
    /// <summary>Its host name or address.</summary>
    public string Host { get; set; } = "";

    /// <summary>Its port; null for 1883, or 8883 with TLS.</summary>
    public int? Port { get; set; }

    /// <summary>The user; empty for none.</summary>
    public string User { get; set; } = "";

    /// <summary>The password; empty for none.</summary>
    public string Password { get; set; } = "";

    /// <summary>Whether the connection is encrypted. The broker's certificate is always checked.</summary>
    public bool Tls { get; set; }

    /// <summary>A PEM file with the authorities to trust, for a broker with a private one; empty for the system's. Revocation is not asked
    /// for then, because a private authority rarely publishes it.</summary>
    public string TrustFile { get; set; } = "";

    /// <summary>The port that is used.</summary>
    public int EffectivePort => Port ?? (Tls ? 8883 : 1883);

    internal void AddProblems(List<string> problems)
    {
        if (Uri.CheckHostName(Host) == UriHostNameType.Unknown) problems.Add(PublishingText.HostNotPossible(Host));
        if (Port is < 1 or > 65535) problems.Add(PublishingText.PortNotPossible(Port));
        if (User.Length == 0 && Password.Length > 0) problems.Add(PublishingText.PasswordWithoutUser);
        if (TrustFile.Length == 0) return;
        if (!Tls) problems.Add(PublishingText.TrustFileWithoutTls);
        else if (TrustProblem() is { } problem) problems.Add(problem);
    }

    /// <summary>What is wrong, each with its key; empty when nothing is.</summary>
    public IReadOnlyList<string> Problems()
    {
        var problems = new List<string>();
        AddProblems(problems);
        return problems;
    }

    private string? TrustProblem()
    {
        try
        {
            TrustFiles.Read(TrustFile);
            return null;
        }
        catch (IOException e)
        {
            return e.Message;
        }
    }
}
