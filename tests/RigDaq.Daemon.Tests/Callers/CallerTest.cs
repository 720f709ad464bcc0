using System.Net;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using RigDaq.App.Callers;
using RigDaq.Core.Callers;
using RigDaq.Web.Access;

namespace RigDaq.Daemon.Tests.Callers;

/// <summary>Who asks: by the key, by the name that was said, by the address, and nobody's name without the key.</summary>
public sealed class CallerTest
{
    [Theory]
    [InlineData("Ida%20at%20the%20bench", "Ida at the bench")]
    [InlineData("", "operator")]
    [InlineData("%1b%5b2Jgone", "operator")]
    [InlineData("a%0Ab", "operator")]
    public void A_page_with_the_key_is_called_what_was_said_there(string cookie, string name) =>
        Assert.Equal(new Caller(name, By.Page, CallerRole.Administer), Of("127.0.0.1", withKey: true, cookie));

    [Fact]
    public void A_name_is_bounded_by_NameMax()
    {
        Assert.Equal(By.NameMax, Of("::1", withKey: true, new string('i', By.NameMax)).Name.Length);
        Assert.Equal(Caller.Unnamed, Of("::1", withKey: true, new string('i', By.NameMax + 1)).Name);
    }

    [Fact]
    public void Whoever_has_no_key_is_known_by_the_place_only() =>
        Assert.Equal(new Caller("", "192.168.7.20", CallerRole.Look), Of("::ffff:192.168.7.20", withKey: false, "Ida"));

    [Fact]
    public async Task It_goes_along_with_what_is_awaited_and_with_nothing_else()
    {
        Assert.Null(Caller.Current);
        await Task.Run(async () =>
        {
            Caller.AtTerminal(Environment.UserName).Enter();
            Assert.Equal(Environment.UserName, await Task.Run(() => Caller.Current!.Name, TestContext.Current.CancellationToken));
        }, TestContext.Current.CancellationToken);
        Assert.Null(Caller.Current);
    }

    private static Caller Of(string address, bool withKey, string name)
    {
        var sessions = new Sessions(new AccountBook(Path.GetTempPath(), TimeProvider.System), TimeProvider.System);
        var access = new DashboardAccess(sessions, AccessOptions.OwnMachineOnly);
        var context = new DefaultHttpContext { RequestServices = new ServiceCollection().AddSingleton(access).BuildServiceProvider() };
        context.Connection.RemoteIpAddress = IPAddress.Parse(address);
        string key = withKey ? access.Token : "0000";
        context.Request.Headers.Cookie = $"{DashboardAccess.CookieName(context)}={key}; {PageCaller.NameCookie}={name}";
        return PageCaller.Of(context);
    }
}
