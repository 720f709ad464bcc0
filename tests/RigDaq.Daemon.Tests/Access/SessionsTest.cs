using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Time.Testing;
using RigDaq.App.Callers;
using RigDaq.Web.Access;

namespace RigDaq.Daemon.Tests.Access;

/// <summary>Sessions end by themselves, and what ended may still stop for a while.</summary>
public sealed class SessionsTest : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-sessions-").FullName;
    private readonly FakeTimeProvider _time = new();
    private readonly AccountBook _book;
    private readonly Sessions _sessions;

    public SessionsTest()
    {
        _book = new AccountBook(_folder, _time);
        _book.Make("ida", CallerRole.Operate, "four plain words here");
        _sessions = new Sessions(_book, _time);
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void IdleMax_ends_it_and_StopsFor_ends_its_stop()
    {
        HttpContext context = Begin();
        _time.Advance(Sessions.IdleMax - TimeSpan.FromSeconds(1));
        Assert.NotNull(_sessions.Find(context));
        CancellationToken over = _sessions.Find(context)!.Over;
        _time.Advance(Sessions.IdleMax);
        Assert.Null(_sessions.Find(context));
        Assert.True(over.IsCancellationRequested);
        Assert.True(_sessions.MayStop(context));
        _time.Advance(Sessions.StopsFor);
        Assert.False(_sessions.MayStop(context));
    }

    [Fact]
    public void LastsMax_ends_one_that_is_used_all_the_time()
    {
        HttpContext context = Begin();
        for (TimeSpan past = TimeSpan.Zero; past < Sessions.LastsMax - TimeSpan.FromHours(1); past += TimeSpan.FromHours(1))
        {
            _time.Advance(TimeSpan.FromHours(1));
            Assert.NotNull(_sessions.Find(context));
        }

        _time.Advance(TimeSpan.FromHours(1));
        Assert.Null(_sessions.Find(context));
    }

    [Fact]
    public void SessionsMax_are_remembered_and_the_one_used_longest_ago_goes()
    {
        HttpContext first = Begin();
        for (int i = 1; i < Sessions.SessionsMax; i++) Begin();
        Assert.NotNull(_sessions.Find(first));
        _time.Advance(TimeSpan.FromSeconds(1));
        Assert.NotNull(_sessions.Find(first));
        Begin();
        Assert.NotNull(_sessions.Find(first));
        Assert.Equal(Sessions.SessionsMax, _sessions.Open().Count);
    }

    [Fact]
    public void A_session_ends_with_a_log_out()
    {
        HttpContext context = Begin();
        _sessions.End(context);
        Assert.Null(_sessions.Find(context));
    }

    [Fact]
    public void Where_the_accounts_cannot_be_read_nobody_goes_on_and_who_had_a_session_may_stop()
    {
        HttpContext context = Begin();
        File.WriteAllText(Path.Combine(_folder, "access", "accounts.json"), "damaged");
        Assert.Null(_sessions.Find(context));
        Assert.True(_sessions.MayStop(context));
    }

    private DefaultHttpContext Begin()
    {
        var context = new DefaultHttpContext();
        context.Request.IsHttps = true;
        context.Request.Host = new HostString("rig.local");
        context.Request.Headers.Cookie = $"{Sessions.CookieName(context)}={_sessions.Begin(_book.Find("ida")!, "192.0.2.7")}";
        return context;
    }
}
