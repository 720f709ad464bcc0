using RigDaq.Daemon.Tests.Trace;

namespace RigDaq.Daemon.Tests.Access;

/// <summary>The command account, with the password on standard input.</summary>
[Collection(nameof(PrintedOutput))]
public sealed class AccountCommandTest : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-account-").FullName;
    private readonly TextReader _typed = Console.In;

    public void Dispose()
    {
        Console.SetIn(_typed);
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task An_account_is_made_changed_listed_and_removed()
    {
        Console.SetIn(new StringReader("four plain words here\nother plain words here\n"));
        Assert.Equal((0, ""), await SaidAsync("account", "add", "ida", "--role", "operate", "--data", _folder));
        Assert.Equal((0, ""), await SaidAsync("account", "change", "ida", "--role", "look", "--password", "--data", _folder));
        (int status, string output, _) = await CommandLine.RunAsync("account", "list", "--data", _folder, "--json");
        Assert.Equal(0, status);
        Assert.Contains("\"name\":\"ida\",\"role\":\"look\"", output, StringComparison.Ordinal);
        Assert.Equal((0, ""), await SaidAsync("account", "remove", "ida", "--data", _folder));
        (status, _, string said) = await CommandLine.RunAsync("account", "list", "--data", _folder);
        Assert.Equal(0, status);
        Assert.Contains("nobody can log in", said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("king", "four plain words here", "operate")]
    [InlineData("look", "short", "12")]
    [InlineData("look", "", "No password")]
    public async Task What_is_wrong_is_said(string role, string password, string word)
    {
        Console.SetIn(new StringReader(password + "\n"));
        (int status, string said) = await SaidAsync("account", "add", "ida", "--role", role, "--data", _folder);
        Assert.Equal(2, status);
        Assert.Contains(word, said, StringComparison.Ordinal);
    }

    private static async Task<(int Status, string Said)> SaidAsync(params string[] args)
    {
        (int status, _, string said) = await CommandLine.RunAsync(args);
        return (status, said);
    }
}
