using RigDaq.Web.Access;
using RigDaq.App.Callers;
using RigDaq.Core;
using RigDaq.Core.Callers;

namespace RigDaq.Daemon.Tests.Access;

/// <summary>Accounts: what is refused, what is kept, and that a password is nowhere.</summary>
public sealed class AccountBookTest : IDisposable
{
    private const string Password = "four plain words here";
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-accounts-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void A_password_fits_its_own_account_only_and_stands_in_no_file()
    {
        AccountBook book = Book();
        book.Make("ida", CallerRole.Operate, Password);
        book.Make("noor", CallerRole.Look, "other plain words here");
        Assert.Equal("ida", Book().Verify("ida", Password)?.Name);
        Assert.Null(book.Verify("noor", Password));
        Assert.Null(book.Verify("nobody", Password));
        Assert.Null(book.Verify("ida", new string('x', AccountBook.PasswordLengthMax + 1)));
        foreach (string file in Directory.GetFiles(_folder, "*", SearchOption.AllDirectories))
        {
            Assert.DoesNotContain(Password, File.ReadAllText(file), StringComparison.Ordinal);
            if (!OperatingSystem.IsWindows()) Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(file));
        }
    }

    [Theory]
    [InlineData(AccountBook.PasswordLengthMin - 1, false)] // PasswordLengthMin
    [InlineData(AccountBook.PasswordLengthMin, true)]
    [InlineData(AccountBook.PasswordLengthMax, true)] // PasswordLengthMax
    [InlineData(AccountBook.PasswordLengthMax + 1, false)]
    public void A_password_has_its_length(int characters, bool isTaken)
    {
        Exception? refusal = Record.Exception(() => Book().Make("ida", CallerRole.Look, new string('p', characters)));
        Assert.Equal(isTaken, refusal is null);
        if (!isTaken) Assert.IsType<RefusalException>(refusal);
    }

    [Theory]
    [InlineData("")]
    [InlineData(" ida")]
    [InlineData("i\u001b[2J")]
    public void A_name_that_is_none_is_refused(string name) =>
        Assert.Throws<RefusalException>(() => Book().Make(name, CallerRole.Look, Password));

    [Fact]
    public void AccountsMax_are_taken_and_no_name_twice()
    {
        Directory.CreateDirectory(Path.Combine(_folder, "access"));
        IEnumerable<string> kept = Enumerable.Range(1, AccountBook.AccountsMax - 1).Select(i =>
            $$"""{"name":"p{{i:00}}","role":"look","passwordHash":"AQAAAAIAAYag","issue":1,"madeAt":"2026-01-01T00:00:00Z"}""");
        File.WriteAllText(Path.Combine(_folder, "access", "accounts.json"), $"[{string.Join(',', kept)}]");
        AccountBook book = Book();
        Assert.Throws<RefusalException>(() => book.Make("p01", CallerRole.Look, Password));
        book.Make(new string('n', By.NameMax), CallerRole.Look, Password);
        Assert.Equal(AccountBook.AccountsMax, book.All().Count);
        Assert.Throws<RefusalException>(() => book.Make("one more", CallerRole.Look, Password));
    }

    [Fact]
    public void Each_change_is_another_issue_and_is_seen_by_another_book_on_the_same_file()
    {
        AccountBook book = Book(), other = Book();
        book.Make("ida", CallerRole.Operate, Password);
        Assert.Equal(1, other.Find("ida")?.Issue);
        book.Revise("ida", CallerRole.Look, null);
        Assert.Equal((CallerRole.Look, 2), (other.Find("ida")!.Role, other.Find("ida")!.Issue));
        book.Remove("ida");
        Assert.Null(other.Find("ida"));
        Assert.Throws<RefusalException>(() => book.Remove("ida"));
    }

    [Fact]
    public void A_file_that_is_not_ours_is_said_and_not_written_over()
    {
        Directory.CreateDirectory(Path.Combine(_folder, "access"));
        string file = Path.Combine(_folder, "access", "accounts.json");
        File.WriteAllText(file, "not json");
        IOException fault = Assert.Throws<IOException>(() => Book().Make("ida", CallerRole.Look, Password));
        Assert.Contains(file, fault.Message, StringComparison.Ordinal);
        Assert.Equal("not json", File.ReadAllText(file));
    }

    private AccountBook Book() => new(_folder, TimeProvider.System);
}
