using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using RigDaq.App.Access;
using RigDaq.App.Callers;
using RigDaq.App.Journal;
using RigDaq.Archive;
using RigDaq.Web.Live;

namespace RigDaq.Daemon.Tests.Access;

/// <summary>Hand motion from elsewhere stays allowed for a while only.</summary>
public sealed class LiveRightsTest
{
    [Fact]
    public async Task AllowedFor_ends_it_and_it_is_asked_for_anew()
    {
        string folder = Directory.CreateTempSubdirectory("rigdaq-rights-").FullName;
        var time = new FakeTimeProvider();
        using (var archive = new RigArchive(folder, time, NullLogger<RigArchive>.Instance))
        {
            await using var book = new HappeningBook(archive.Diary, time, NullLogger<HappeningBook>.Instance);
            var consent = new MotionConsent(time);
            var rights = new LiveRights(new Caller("Ida", "192.0.2.7", CallerRole.Operate), true, false, consent, book);
            Assert.NotNull(rights.ReasonAgainst(time, CancellationToken.None));
            Assert.True(consent.Answer(Assert.Single(consent.Asked).Id, true));
            // Wall time: the answer comes on a thread of the pool.
            for (int i = 0; i < 500 && rights.ReasonAgainst(time, CancellationToken.None) is not null; i++)
                await Task.Delay(10, TestContext.Current.CancellationToken);
            consent.RefuseAll();
            time.Advance(LiveRights.AllowedFor - TimeSpan.FromTicks(1));
            Assert.Null(rights.ReasonAgainst(time, CancellationToken.None));
            time.Advance(TimeSpan.FromTicks(1));
            Assert.NotNull(rights.ReasonAgainst(time, CancellationToken.None));
            Assert.Single(consent.Asked);
            consent.RefuseAll();
        }

        Directory.Delete(folder, recursive: true);
    }
}
