using System.Globalization;
using System.Text.Json;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;

namespace RigDaq.EndToEnd.Tests.Replay;

/// <summary>What a replayed run has to read, and what it was recorded under; the JSON beside a recording's samples.</summary>
internal sealed record RecordedHead
{
    private static readonly JsonSerializerOptions Layout = new() { WriteIndented = true };

    /// <summary>The bits of a conversion of the rig that recorded.</summary>
    public required int ConverterBits { get; init; }

    public required double IntervalSeconds { get; init; }

    public required double StepsPerMillimetre { get; init; }

    public required double NewtonsPerCount { get; init; }

    public required double ZeroCounts { get; init; }

    public required double NoiseCounts { get; init; }

    public required double TravelLimitMillimetres { get; init; }

    public required RecordedReading Expected { get; init; }

    public static RecordedHead Read(string path) => JsonSerializer.Deserialize<RecordedHead>(File.ReadAllText(path))!;

    public void Write(string path) => File.WriteAllText(path, JsonSerializer.Serialize(this, Layout).ReplaceLineEndings("\n") + "\n");
}

/// <summary>The figures of a reading that a replay is held to; forces in newtons, rounded to 0.1 mN.</summary>
internal sealed record RecordedReading(string Ending, double? PeakForceNewtons, double? RawPeakForceNewtons, double? BreakForceNewtons,
    int LoadDrops, int SpikesRemoved)
{
    public static RecordedReading Of(Run run) => new(
        run.Ending.Word(),
        Rounded(run.Reading?.PeakForceNewtons),
        Rounded(run.Reading?.RawPeakForceNewtons),
        Rounded(run.Reading?.BreakForceNewtons),
        run.Reading?.LoadDrops.Count ?? 0,
        run.Reading?.SpikesRemoved ?? 0);

    private static double? Rounded(double? newtons) => newtons is { } known ? Math.Round(known, 4) : null;
}

/// <summary>A pull as a device sent it: raw samples with their numbers and stamps, and what it is expected to read.</summary>
internal sealed record RecordedRun(string Name, RecordedHead Head, IReadOnlyList<RawSample> Samples)
{
    private const string Columns = "number,device_us,counts,steps";

    public static RecordedRun Read(string folder, string name)
    {
        RecordedHead head = RecordedHead.Read(Path.Combine(folder, name + ".json"));
        string[] lines = File.ReadAllLines(Path.Combine(folder, name + ".csv"));
        Assert.Equal(Columns, lines[0]);
        return new RecordedRun(name, head, [.. lines.Skip(1).Select(Sample)]);
    }

    public void Write(string folder)
    {
        Directory.CreateDirectory(folder);
        Head.Write(Path.Combine(folder, Name + ".json"));
        long number = Samples[0].Number;
        long stamp = Samples[0].DeviceMicroseconds;
        IEnumerable<string> lines = Samples.Select(s => string.Create(
            CultureInfo.InvariantCulture, $"{s.Number - number},{s.DeviceMicroseconds - stamp},{s.Counts},{s.CrossheadSteps}"));
        File.WriteAllText(Path.Combine(folder, Name + ".csv"), string.Join('\n', [Columns, .. lines]) + "\n");
    }

    private static RawSample Sample(string line)
    {
        long[] fields = [.. line.Split(',').Select(field => long.Parse(field, CultureInfo.InvariantCulture))];
        return new RawSample(fields[0], fields[1], (int)fields[2], (int)fields[3]);
    }
}
