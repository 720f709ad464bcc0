using System.Globalization;
using System.Text.Json;
using System.Threading.Channels;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;
using RigDaq.Daemon.Commands;
using RigDaq.Rig.Links;
using RigDaq.Virtual;
using RigDaq.Virtual.Machine;

namespace RigDaq.Daemon.Tests.Calibration;

/// <summary>A virtual rig behind a pseudo-terminal, and a person at it who hangs what the terminal asks for and types words.</summary>
internal sealed class VirtualBench : IAsyncDisposable
{
    public static readonly LocalGravity Gravity = LocalGravity.At(52.2, 34);
    public static readonly AirDensity Air = AirDensity.AtHeight(34);
    private static readonly Weight[] Weights =
        [.. Enumerable.Range(1, 5).Select(i => Weight.OfClass($"20 kg no. {i}", 20, WeightClass.M1))];

    private Channel<string> _typed = Channel.CreateUnbounded<string>();
    private readonly List<string> _said = [];

    public VirtualBench(VirtualRigOptions? options = null)
    {
        Folder = Directory.CreateTempSubdirectory("rigdaq-calibrate-").FullName;
        Rig = new VirtualRig((options ?? new()) with { Seed = 3, TimeScale = 40 }, TimeProvider.System);
        Port = Rig.OpenPty();
    }

    public VirtualRig Rig { get; }

    public string Port { get; }

    public string Folder { get; }

    public IRigLinkOpener Link => new SerialRigLinkOpener(new SerialLinkSettings { Path = Port, BaudRate = 250_000 });

    /// <summary>Hears every line and may type or hang otherwise; true where it has seen to the line itself.</summary>
    public Func<string, bool> Person { get; set; } = _ => false;

    public IReadOnlyList<string> Said
    {
        get
        {
            lock (_said) return [.. _said];
        }
    }

    public void Type(string word) => _typed.Writer.TryWrite(word);

    /// <summary>Nobody types any more: the end of input.</summary>
    public void LeaveTheKeyboard() => _typed.Writer.TryComplete();

    public Task<CalibrationRecord?> CalibrateAsync(bool resume, CancellationToken cancellation)
    {
        if (resume)
        {
            // The reader of the session before still waits for a line and would take the first one of this.
            _typed.Writer.TryComplete();
            _typed = Channel.CreateUnbounded<string>();
        }

        var plan = new GuidePlan
        {
            Steps = StepPlanner.Suggest(Weights, Gravity, Air),
            PreloadCycles = 1,
            StillSeconds = 1,
            WarmUpSeconds = 10,
            DwellSeconds = 10,
            ZeroReturnSeconds = 5,
        };
        var job = new CalibrationGuideCommand.Job
        {
            DataFolder = Folder,
            Link = Link,
            Resume = resume,
            Plan = resume ? null : _
                => (plan, new CalibrationCircumstances { Person = "K. Lane", Gravity = Gravity, Air = Air, Weights = Weights }),
            Inputs = new UncertaintyInputs { FullScaleNewtons = 1000, NonLinearityPercent = 0.02 },
        };
        return CalibrationGuideCommand.RunAsync(job, new TypedReader(_typed.Reader), words => Hear(words), () => { }, TimeProvider.System,
            cancellation);
    }

    /// <summary>Types a command for this rig, with the person at it; for tests that have the console to themselves.</summary>
    public async Task<int> RunAsync(TimeSpan bound, params string[] command)
    {
        string configuration = WriteFile("rig.json", $$"""
            {"data": {{JsonSerializer.Serialize(Folder)}}, "serial": {"path": {{JsonSerializer.Serialize(Port)}}}, "site": {"latitudeDegrees": 52.2, "heightMetres": 34} }
            """);
        (TextReader input, TextWriter said) = (Console.In, Console.Error);
        using var heard = new HeardWriter(Hear);
        Console.SetIn(new TypedReader(_typed.Reader));
        Console.SetError(heard);
        try
        {
            return await CommandTree.RunAsync([.. command, "--config", configuration]).WaitAsync(bound);
        }
        finally
        {
            Console.SetIn(input);
            Console.SetError(said);
        }
    }

    public string WriteFile(string name, string text)
    {
        string path = Path.Combine(Folder, name);
        File.WriteAllText(path, text);
        return path;
    }

    /// <summary>Puts readings that were taken already in force, if the person types so.</summary>
    public Task<CalibrationRecord?> AcceptAsync(CalibrationTable readings, CancellationToken cancellation)
    {
        var job = new CalibrationGuideCommand.Job
        {
            DataFolder = Folder,
            Link = Link,
            Readings = readings,
        };
        return CalibrationGuideCommand.RunAsync(job, new TypedReader(_typed.Reader), words => Hear(words), () => { }, TimeProvider.System,
            cancellation);
    }

    public async ValueTask DisposeAsync()
    {
        _typed.Writer.TryComplete();
        await Rig.DisposeAsync();
        Directory.Delete(Folder, recursive: true);
    }

    private void Hear(string line)
    {
        lock (_said) _said.Add(line);
        if (Person(line)) return;
        if (line.Contains("Take everything off", StringComparison.Ordinal)) Rig.TakeMassOff();
        else if (line.StartsWith("Hang ", StringComparison.Ordinal) || line.StartsWith("Take off until ", StringComparison.Ordinal))
            Rig.HangMass(20 * line.Split("20 kg").Length - 20, Gravity.MetresPerSecondSquared, airDensity: Air.KilogramsPerCubicMetre);
        else if (line.StartsWith("All readings are taken", StringComparison.Ordinal)) Type("accept");
    }

    private sealed class HeardWriter(Action<string> hear) : StringWriter(CultureInfo.InvariantCulture)
    {
        public override void WriteLine(string? value) => hear(value ?? "");

        // From a daemon it comes with its line ends.
        public override void Write(string? value)
        {
            foreach (string line in (value ?? "").Split('\n', StringSplitOptions.RemoveEmptyEntries)) hear(line);
        }
    }

    private sealed class TypedReader(ChannelReader<string> typed) : TextReader
    {
        public override string? ReadLine() => typed.WaitToReadAsync().AsTask().GetAwaiter().GetResult() && typed.TryRead(out string? line)
            ? line : null;
    }
}
