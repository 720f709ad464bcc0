using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using RigDaq.Archive;
using RigDaq.Text;
using RigDaq.Web.Access;

namespace RigDaq.Daemon.Tests.Dashboard;

/// <summary>Reports, pictures and labels cost a second of a core each: one at a time, once for what is kept, and not at anybody's
/// will.</summary>
public sealed class DocumentStoreTest : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-shelf-").FullName;
    private readonly FakeTimeProvider _time = new(DateTimeOffset.UnixEpoch.AddYears(60));
    private readonly RigArchive _archive;
    private readonly DocumentStore _shelf;

    public DocumentStoreTest()
    {
        _archive = new RigArchive(_folder, _time, NullLogger<RigArchive>.Instance);
        _shelf = new DocumentStore(_archive, _time);
    }

    public void Dispose()
    {
        _shelf.Dispose();
        _archive.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task It_is_computed_once_however_many_ask_and_anew_when_something_was_kept()
    {
        int now = 0, most = 0;
        async Task<byte[]?> MakeAsync()
        {
            most = Math.Max(most, Interlocked.Increment(ref now));
            await Task.Yield();
            Interlocked.Decrement(ref now);
            return [1];
        }

        await Task.WhenAll(Enumerable.Range(0, 12)
            .Select(i => _shelf.GetAsync($"report {i % 2}", hasKey: true, MakeAsync, TestContext.Current.CancellationToken)));
        Assert.Equal(1, most);
        Assert.Equal(2, _shelf.Computed);
        _archive.Studies.Save(new Core.Specimens.Study
        {
            CreatedAt = _time.GetUtcNow(),
            Id = "s",
            Name = "s",
            SettingName = "t",
            SettingUnit = "K"
        }, "made");
        Assert.Equal([1], (await GetAsync("report 0", true)).Bytes);
        Assert.Equal(3, _shelf.Computed);
    }

    [Fact]
    public async Task While_memory_is_tight_nothing_is_kept_and_who_has_no_key_has_to_wait()
    {
        await GetAsync("report", true);
        _shelf.BeTight(true);
        Assert.NotNull((await GetAsync("report", false)).Busy);
        Assert.NotNull((await GetAsync("report", true)).Bytes);
        Assert.NotNull((await GetAsync("report", true)).Bytes);
        Assert.Equal(3, _shelf.Computed);
        _shelf.BeTight(false);
        Assert.NotNull((await GetAsync("report", false)).Bytes);
        Assert.NotNull((await GetAsync("report", false)).Bytes);
        Assert.Equal(4, _shelf.Computed);
    }

    [Fact]
    public async Task Without_the_key_it_is_computed_a_few_times_at_once_and_then_now_and_then()
    {
        for (int i = 0; i < DocumentStore.KeylessMax; i++) Assert.Null((await GetAsync($"report {i}", false)).Busy);
        Assert.Contains("every few seconds", (await GetAsync("report x", false)).Busy, StringComparison.Ordinal);
        // What is there costs nothing, and whoever has the key is not sent away.
        Assert.Equal([1], (await GetAsync("report 0", false)).Bytes);
        Assert.Null((await GetAsync("report x", true)).Busy);
        _time.Advance(DocumentStore.KeylessEvery);
        Assert.Null((await GetAsync("report y", false)).Busy);
        Assert.NotNull((await GetAsync("report z", false)).Busy);
    }

    [Fact]
    public async Task Those_who_wait_are_few()
    {
        var held = new TaskCompletionSource<byte[]?>();
        Task<(byte[]? Bytes, Sentence? Busy)>[] asked =
            [.. Enumerable.Range(0, DocumentStore.WaitingMax + 5)
                .Select(i => _shelf.GetAsync($"report {i}", true, () => held.Task, TestContext.Current.CancellationToken))];
        Assert.Equal(4, asked.Count(a => a.IsCompleted));
        held.SetResult([1]);
        Assert.Equal(4, (await Task.WhenAll(asked)).Count(a => a.Busy is not null));
    }

    [Fact]
    public async Task What_is_kept_is_bounded()
    {
        for (int i = 0; i < 10; i++) await _shelf
            .GetAsync($"report {i}", true, () => Task.FromResult<byte[]?>(new byte[DocumentStore.KeptBytesMax / 4]),
            TestContext.Current.CancellationToken);
        long computed = _shelf.Computed;
        await GetAsync("report 9", true);
        Assert.Equal(computed, _shelf.Computed);
        await GetAsync("report 0", true);
        Assert.Equal(computed + 1, _shelf.Computed);
    }

    private Task<(byte[]? Bytes, Sentence? Busy)> GetAsync(string name, bool hasKey) =>
        _shelf.GetAsync(name, hasKey, () => Task.FromResult<byte[]?>([1]), TestContext.Current.CancellationToken);
}
