using System.Diagnostics;
using System.Globalization;
using System.Text;
using RigDaq.Rig.Links;
using RigDaq.Virtual.Lines;

namespace RigDaq.Rig.Tests.PlainDevices;

/// <summary>
/// A sketch or a bench instrument with a person at its handle: it prints lines by itself, or answers questions, and the force rises
/// while the handle is turned until the specimen parts. It runs in wall time, as the stamps of arrival do.
/// </summary>
internal sealed class TextDevice : IRigLinkOpener, IAsyncDisposable
{
    public const double CountsPerNewton = 4_000;

    private const double PeriodMilliseconds = 12.5;

    private readonly bool _pty;
    private readonly CancellationTokenSource _end = new();
    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private readonly Random _random = new(11);
    private readonly Lock _gate = new();
    private readonly Task _running;
    private IDeviceLine _line;
    private double _turnedSince = -1;

    public TextDevice(bool pty = false)
    {
        _pty = pty;
        _line = pty ? new PtyLine(null) : new PipeLine();
        _running = Task.Run(RunAsync);
    }

    /// <summary>What it prints at a time in ms and counts; null prints nothing by itself.</summary>
    public Func<long, int, string>? Prints { get; set; } = (millis, counts) => $"{millis},{counts}\r\n";

    /// <summary>What it answers to a question, given the force in newtons; null does not answer.</summary>
    public Func<string, double, string?> Answers { get; set; } = (_, _) => null;

    /// <summary>Bytes that are sent instead of the next line.</summary>
    public byte[]? Instead { get; set; }

    /// <summary>What it sends instead of every line; null for lines.</summary>
    public Func<byte[]>? Garbage { get; set; }

    public bool Silent { get; set; }

    /// <summary>A force that stays, for example of fingers.</summary>
    public double RestNewtons { get; set; }

    public double StrengthNewtons { get; set; } = 60;

    public double RateNewtonsPerSecond { get; set; } = 80;

    public List<string> Received { get; } = [];

    public string Name => "text device";

    public ValueTask<IRigLink> OpenAsync(CancellationToken cancellation)
    {
        if (_pty) return new SerialRigLinkOpener(new SerialLinkSettings { Path = ((PtyLine)_line).Path, BaudRate = 115_200 })
            .OpenAsync(cancellation);
        lock (_gate)
        {
            if (!_line.IsConnected || Opened) _line = new PipeLine();
            Opened = true;
            return ValueTask.FromResult<IRigLink>(new PipeRigLink(Name, ((PipeLine)_line).HostEnd));
        }
    }

    private bool Opened { get; set; }

    public void Turn() => _turnedSince = _clock.Elapsed.TotalSeconds;

    public void LeaveHandle() => _turnedSince = -1;

    public async ValueTask DisposeAsync()
    {
        await _end.CancelAsync();
        await _running;
        _line.Dispose();
        _end.Dispose();
    }

    private double Newtons
    {
        get
        {
            double turned = _turnedSince < 0 ? 0 : RateNewtonsPerSecond * Math.Max(0, _clock.Elapsed.TotalSeconds - _turnedSince);
            return RestNewtons + (turned > StrengthNewtons ? 0 : turned);
        }
    }

    private async Task RunAsync()
    {
        using var timer = new PeriodicTimer(TimeSpan.FromMilliseconds(PeriodMilliseconds));
        var asked = new StringBuilder();
        var buffer = new byte[256];
        try
        {
            // Wall time on purpose: lines come when a converter has converted, and their arrival is what is tried here.
            while (await timer.WaitForNextTickAsync(_end.Token))
            {
                lock (_gate)
                {
                    int read = _line.Read(buffer);
                    asked.Append(Encoding.ASCII.GetString(buffer, 0, read));
                    Answer(asked);
                    Print();
                }
            }
        }
        catch (OperationCanceledException)
        {
            // The test is over.
        }
    }

    private void Print()
    {
        if (Silent || Prints is not { } prints) return;
        byte[]? instead = Instead ?? Garbage?.Invoke();
        Instead = null;
        var counts = (int)Math.Round(8_400 + (CountsPerNewton * Newtons) + _random.Next(-40, 41));
        _line.Write(instead ?? Encoding.UTF8.GetBytes(prints(_clock.ElapsedMilliseconds, counts)));
    }

    private void Answer(StringBuilder asked)
    {
        string text = asked.ToString();
        for (int end = text.IndexOf('\n', StringComparison.Ordinal); end >= 0; end = text.IndexOf('\n', StringComparison.Ordinal))
        {
            string question = text[..end].Trim('\r');
            text = text[(end + 1)..];
            Received.Add(question);
            if (Answers(question, Newtons + (_random.Next(-10, 11) / 1_000.0)) is { } answer) _line.Write(Encoding.ASCII.GetBytes(answer));
        }

        asked.Clear().Append(text);
    }

    public static string Scientific(double value) => value.ToString("+0.000000E+00;-0.000000E+00", CultureInfo.InvariantCulture);
}
