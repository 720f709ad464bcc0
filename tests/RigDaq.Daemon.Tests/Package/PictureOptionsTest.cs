using System.Buffers.Binary;
using RigDaq.Daemon.Tests.Trace;
using RigDaq.Tests.Shared;

namespace RigDaq.Daemon.Tests.Package;

/// <summary>What <c>rigdaq pictures</c> may be told: <c>--only</c>, <c>--title</c>, <c>--ratio</c>, <c>--values</c>,
/// <c>--build-up</c>.</summary>
[Collection(nameof(PrintedOutput))]
public sealed class PictureOptionsTest(ExportedStudy exported) : IClassFixture<ExportedStudy>
{
    [Fact]
    public async Task Only_the_named_ones_are_drawn_and_a_beginning_stands_for_all_that_begin_so()
    {
        Assert.Equal(["strength.svg"], await Drawn("one", "--only", "strength"));
        string[] traces = await Drawn("begin", "--only", "traces");
        Assert.True(traces.Length > 1);
        Assert.All(traces, name => Assert.StartsWith("traces-", name, StringComparison.Ordinal));
        (int status, _, string said) = await Run("none", "--only", "nosuch");
        Assert.Equal(2, status);
        Assert.Contains("strength", said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_title_of_one_s_own_stands_above_it_and_values_beside_the_means()
    {
        await Drawn("plain", "--only", "strength-alder");
        await Drawn("own", "--only", "strength-alder", "--title", "Fan on or off?", "--values");
        string plain = await Svg("plain", "strength-alder.svg"), own = await Svg("own", "strength-alder.svg");
        Assert.Contains("Fan on or off?", own, StringComparison.Ordinal);
        Assert.DoesNotContain("Fan on or off?", plain, StringComparison.Ordinal);

        // Two conditions at three settings: a figure each.
        Assert.True(Texts(own) >= Texts(plain) + 6, $"{Texts(plain)} texts, {Texts(own)} with values");
    }

    [Theory]
    [InlineData("16:9", 16, 9)]
    [InlineData("9:16", 9, 16)]
    [InlineData("1:1", 1, 1)]
    public async Task A_ratio_is_kept_to_the_pixel(string ratio, int across, int up)
    {
        string folder = $"ratio-{across}-{up}";
        Assert.Equal(["change.png"], await Drawn(folder, "--only", "change", "--ratio", ratio, "--format", "png"));
        byte[] png = await File.ReadAllBytesAsync(Path.Combine(exported.In(folder), "change.png"), TestContext.Current.CancellationToken);
        int width = BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(16)), height = BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(20));
        Assert.Equal(width * up, height * across);
        Assert.InRange(Math.Min(width, height), 1000, 4000);
        Assert.Equal(2, (await Run("wrong", "--ratio", "4:3")).Status);
    }

    [Fact]
    public async Task A_build_up_reveals_one_series_after_another_and_ends_with_the_whole()
    {
        string[] steps = await Drawn("steps", "--only", "strength-alder", "--build-up");
        Assert.True(steps.Length > 2);
        Assert.Equal(Enumerable.Range(0, steps.Length).Select(i => $"strength-alder-{i:00}.svg"), steps);
        await Drawn("whole", "--only", "strength-alder");
        int[] marks = [.. await Task.WhenAll(steps.Select(async step => (await Svg("steps", step)).Length))];
        Assert.True(marks.Zip(marks.Skip(1)).All(pair => pair.First < pair.Second), string.Join(", ", marks));
        Assert.Equal(Texts(await Svg("whole", "strength-alder.svg")), Texts(await Svg("steps", steps[^1])));
    }

    private async Task<string[]> Drawn(string folder, params string[] arguments)
    {
        (int status, _, string said) = await Run(folder, arguments);
        Assert.True(status == 0, said);
        return [.. Directory.GetFiles(exported.In(folder)).Select(file => Path.GetFileName(file)!).Order(StringComparer.Ordinal)];
    }

    private Task<(int Status, string Output, string Said)> Run(string folder, params string[] arguments) =>
        CommandLine.RunAsync(["pictures", PulledStudy.Id, "--out", exported.In(folder), .. arguments, "--data", exported.In("data")]);

    private Task<string> Svg(string folder, string name)
        => File.ReadAllTextAsync(Path.Combine(exported.In(folder), name), TestContext.Current.CancellationToken);

    private static int Texts(string svg) => svg.Split("<text").Length - 1;
}
