using System.Text.Json;
using System.Text.Json.Serialization;
using Microsoft.AspNetCore.Identity;
using RigDaq.App.Access;
using RigDaq.App.Callers;
using RigDaq.App.Text;
using RigDaq.Archive.Storage;
using RigDaq.Core;
using RigDaq.Core.Callers;
using RigDaq.Core.Specimens;

namespace RigDaq.Web.Access;

/// <summary>
/// The accounts of a data folder. Each change is on the disk when it returns; one by another process is seen at the next look. Safe for
/// several threads.
/// </summary>
/// <param name="dataFolder">Where they are kept.</param>
/// <param name="time">For stamps.</param>
internal sealed class AccountBook(string dataFolder, TimeProvider time)
{
    /// <summary>There are no more.</summary>
    public const int AccountsMax = 64;

    /// <summary>No password is shorter (NIST SP 800-63B asks for 8 at least; a rig deserves more).</summary>
    public const int PasswordLengthMin = 12;

    /// <summary>No password is longer (the same asks for 64 at least).</summary>
    public const int PasswordLengthMax = 256;

    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web)
    { WriteIndented = true, Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase, allowIntegerValues: false) } };

    // One for the process; other processes, the command account among them, are kept off by a lock file.
    private static readonly Lock Writing = new();

    // Another process waits for its turn so often, and so long each time.
    private const int HoldTries = 40;
    private static readonly TimeSpan HoldWait = TimeSpan.FromMilliseconds(50);
    private static readonly PasswordHasher<string> Hasher = new();

    // What a password is compared with where there is no such account, so that an answer takes as long.
    private static readonly string Nobody = Hasher.HashPassword("", Guid.NewGuid().ToString());

    private readonly string _file = Path.Combine(AccessFolder.Of(dataFolder), "accounts.json");
    private readonly Lock _lock = new();
    private (DateTime Written, long Length) _read;
    private IReadOnlyList<Account> _accounts = [];

    /// <summary>All, by name.</summary>
    /// <exception cref="IOException">They cannot be read, or are not what was written.</exception>
    public IReadOnlyList<Account> All()
    {
        lock (_lock)
        {
            var file = new FileInfo(_file);
            (DateTime, long) now = file.Exists ? (file.LastWriteTimeUtc, file.Length) : default;
            if (now == _read) return _accounts;
            _accounts = AccessFolder.Read(_file) is { } bytes ? Parse(bytes) : [];
            _read = now;
            return _accounts;
        }
    }

    /// <summary>One; null where there is none of that name.</summary>
    public Account? Find(string name) => All().FirstOrDefault(account => account.Name == name);

    /// <summary>Makes one.</summary>
    /// <exception cref="RefusalException">There is one of that name already, or too many, or a name or a password is none.</exception>
    /// <exception cref="IOException">It could not be kept.</exception>
    public void Make(string name, CallerRole role, string password) => Change(accounts =>
    {
        if (name.Length is 0 or > By.NameMax || name.Trim() != name || !PlainText.IsPlain(name))
            throw new RefusalException(AppText.AccountName(By.NameMax));
        if (accounts.Exists(account => account.Name == name)) throw new RefusalException(AppText.AccountThere(name));
        if (accounts.Count >= AccountsMax) throw new RefusalException(AppText.AccountsMany(AccountsMax));
        accounts.Add(new Account(name, role, Hash(name, password), 1, time.GetUtcNow()));
    });

    /// <summary>Gives one another role, another password, or both; sessions of before are over.</summary>
    /// <exception cref="RefusalException">There is none of that name, or a password is none.</exception>
    /// <exception cref="IOException">It could not be kept.</exception>
    public void Revise(string name, CallerRole? role, string? password) => Change(accounts =>
    {
        int at = At(accounts, name);
        Account before = accounts[at];
        accounts[at] = before with
        {
            Role = role ?? before.Role,
            PasswordHash = password is null ? before.PasswordHash : Hash(name, password),
            Issue = before.Issue + 1,
        };
    });

    /// <summary>Takes one away.</summary>
    /// <exception cref="RefusalException">There is none of that name.</exception>
    /// <exception cref="IOException">It could not be kept.</exception>
    public void Remove(string name) => Change(accounts => accounts.RemoveAt(At(accounts, name)));

    /// <summary>The account that a name and a password belong to; null where they belong to none. Takes as long either way, some tens of
    /// milliseconds of a core.</summary>
    public Account? Verify(string name, string password)
    {
        Account? account = Find(name);
        bool fits = password.Length <= PasswordLengthMax
            && Hasher.VerifyHashedPassword(name, account?.PasswordHash ?? Nobody, password) != PasswordVerificationResult.Failed;
        return fits ? account : null;
    }

    private static int At(List<Account> accounts, string name) =>
        accounts.FindIndex(account => account.Name == name) is >= 0 and var at ? at
            : throw new RefusalException(AppText.AccountNone(name));

    private static string Hash(string name, string password) => password.Length is >= PasswordLengthMin and <= PasswordLengthMax
        ? Hasher.HashPassword(name, password) : throw new RefusalException(AppText.AccountPassword(PasswordLengthMin, PasswordLengthMax));

    private void Change(Action<List<Account>> change)
    {
        lock (Writing)
        {
            using FileStream held = Hold();
            List<Account> accounts = [.. All()];
            change(accounts);
            accounts.Sort((a, b) => string.CompareOrdinal(a.Name, b.Name));
            AccessFolder.Write(_file, JsonSerializer.SerializeToUtf8Bytes(accounts, Json));
            // Two changes within the clock's grain of the file system may leave the same stamp.
            lock (_lock) _read = default;
        }
    }

    /// <summary>Keeps other processes from changing them meanwhile.</summary>
    private FileStream Hold()
    {
        OwnersFile.MakeFolder(Path.GetDirectoryName(_file)!);
        for (int tries = 1; ; tries++)
        {
            try
            {
                return OwnersFile.Open(_file + ".lock", FileMode.OpenOrCreate, FileAccess.ReadWrite);
            }
            catch (IOException) when (tries < HoldTries)
            {
                Thread.Sleep(HoldWait);
            }
        }
    }

    private Account[] Parse(byte[] bytes)
    {
        try
        {
            return JsonSerializer.Deserialize<Account[]>(bytes, Json) ?? [];
        }
        catch (JsonException e)
        {
            throw new IOException(AppText.AccountsUnreadable(_file), e);
        }
    }
}
