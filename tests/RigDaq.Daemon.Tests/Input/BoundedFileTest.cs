using RigDaq.App.Input;
using RigDaq.Daemon.Tests.Trace;

namespace RigDaq.Daemon.Tests.Input;

/// <summary>Files that are read: to their end, and no further than their bound. /dev/zero claims no length and has no end.</summary>
[Collection(nameof(PrintedOutput))]
public sealed class BoundedFileTest : IDisposable
{
    private readonly string _file = Path.GetTempFileName();

    public void Dispose() => File.Delete(_file);

    [Fact]
    public void A_file_of_the_bound_is_read_and_one_of_a_byte_more_is_refused()
    {
        File.WriteAllText(_file, new string('a', 1000));
        Assert.Equal(1000, BoundedFile.ReadText(_file, 1000).Length);
        Assert.Contains("longer than 999 bytes", Assert.Throws<InputException>(() => BoundedFile.ReadText(_file, 999)).Message,
            StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("check", "--config", "/dev/zero")]
    [InlineData("serve", "--config", "/dev/zero")]
    [InlineData("compare", "/dev/zero")]
    [InlineData("trace", "/dev/zero")]
    [InlineData("calibration", "fit", "/dev/zero")]
    public async Task A_file_without_an_end_ends_with_a_sentence(params string[] arguments)
    {
        Assert.SkipUnless(File.Exists("/dev/zero"), "Needs a file without an end.");
        (int status, _, string said) = await CommandLine.RunAsync(arguments);
        Assert.True(status == 2, $"{status}: {said}");
        Assert.NotEmpty(said);
    }

    [Fact]
    public void A_cell_of_the_bound_is_read_and_one_of_more_is_refused()
    {
        File.WriteAllText(_file, $"a,b\n{new string('x', CsvTable.CellCharactersMax)},1\n");
        Assert.Single(CsvTable.Read(_file, "a").Rows);
        File.WriteAllText(_file, $"a,b\n{new string('x', CsvTable.CellCharactersMax + 1)},1\n");
        Assert.Contains("no table", Assert.Throws<InputException>(() => CsvTable.Read(_file, "a")).Message, StringComparison.Ordinal);
    }
}
