using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using RigDaq.App.Access;
using RigDaq.App.Callers;
using RigDaq.App.Journal;
using RigDaq.Archive;
using RigDaq.Text;
using RigDaq.Web.Live;

namespace RigDaq.Daemon.Tests.Access;

/// <summary>Hand motion from elsewhere stays allowed for a while only, and until somebody stops.</summary>
public sealed class LiveRightsTest : IAsyncDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-rights-").FullName;
    private readonly FakeTimeProvider _time = new();
    private readonly RigArchive _archive;
    private readonly HappeningBook _book;
    private readonly MotionConsent _consent;
    private readonly LiveRights _rights;

    public LiveRightsTest()
    {
        _archive = new RigArchive(_folder, _time, NullLogger<RigArchive>.Instance);
        _book = new HappeningBook(_archive.Diary, _time, NullLogger<HappeningBook>.Instance);
        _consent = new MotionConsent(_time);
        _rights = new LiveRights(new Caller("Ida", "192.0.2.7", CallerRole.Operate), true, false, _consent, _book);
    }

    public async ValueTask DisposeAsync()
    {
        _consent.RefuseAll();
        await _book.DisposeAsync();
        _archive.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task AllowedFor_ends_it_and_it_is_asked_for_anew()
    {
        await AllowAsync();
        _time.Advance(LiveRights.AllowedFor - TimeSpan.FromTicks(1));
        Assert.Null(Reason());
        _time.Advance(TimeSpan.FromTicks(1));
        Assert.NotNull(Reason());
        Assert.Single(_consent.Asked);
    }

    /// <summary>At the rig, in the terminal, or on another page: whoever stops takes back what was allowed to everybody.</summary>
    [Fact]
    public async Task A_stop_by_anybody_ends_it()
    {
        await AllowAsync();
        _consent.RefuseAll();
        Assert.NotNull(Reason());
        Assert.Single(_consent.Asked);
    }

    private Sentence? Reason() => _rights.ReasonAgainst(_time, CancellationToken.None);

    private async Task AllowAsync()
    {
        Assert.NotNull(Reason());
        Assert.True(_consent.Answer(Assert.Single(_consent.Asked).Id, true));
        // Wall time: the answer comes on a thread of the pool.
        for (int i = 0; i < 500 && Reason() is not null; i++) await Task.Delay(10, TestContext.Current.CancellationToken);
    }
}
