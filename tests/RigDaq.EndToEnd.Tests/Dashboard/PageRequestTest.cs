using System.Collections;
using System.Reflection;
using System.Text.Json;
using System.Text.Json.Serialization;
using RigDaq.App;
using RigDaq.Web.Access;
using RigDaq.Web.Views;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>What a page may send, each kind of request at once.</summary>
public sealed class PageRequestTest
{
    public static TheoryData<Type> Asks
        => [.. typeof(IPageRequest).Assembly.GetTypes().Where(type => type.IsClass && type.IsAssignableTo(typeof(IPageRequest)))];

    [Theory]
    [MemberData(nameof(Asks))]
    public void What_a_page_leaves_out_is_at_its_default(Type type)
    {
        object expected = Activator.CreateInstance(type)!;
        object read = JsonSerializer.Deserialize("{}", type, DashboardJson.Camel)!;
        foreach (PropertyInfo property in Sendable(type)) Assert.Equal(property.GetValue(expected), property.GetValue(read));
    }

    [Theory]
    [MemberData(nameof(Asks))]
    public void A_null_where_a_text_or_a_list_belongs_is_refused(Type type)
    {
        foreach (PropertyInfo property in Sendable(type)
            .Where(p => new NullabilityInfoContext().Create(p).WriteState == NullabilityState.NotNull))
            Assert.Throws<JsonException>(() => JsonSerializer.Deserialize($$"""{"{{JsonNamingPolicy.CamelCase.ConvertName(property.Name)}}":null}""", type, DashboardJson.Camel));
    }

    [Theory]
    [InlineData("calibration-begin", """{"cautionsRead":true,"weights":[null]}""")]
    [InlineData("calibration-begin", """{"cautionsRead":true,"weights":[{"name":null}]}""")]
    [InlineData("calibration-begin", "null")]
    [InlineData("study-make", """{"prints":[null]}""")]
    [InlineData("study-make", """{"name":"\u001b[2J"}""")]
    [InlineData("study-rename", """{"to":"bell\u0007"}""")]
    [InlineData("run-void", """{"text":"\u009b31m"}""")]
    [InlineData("calibration-begin", """{"person":"\u001b]0;x\u0007"}""")]
    public async Task A_null_inside_a_list_is_refused_as_no_such_request(string command, string json)
    {
        await using PageHost host = await PageHost.StartAsync();
        (System.Net.HttpStatusCode status, string words) = await host.PostAsync(command, json);
        Assert.Equal(System.Net.HttpStatusCode.BadRequest, status);
        Assert.Contains("JSON", words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(GuardedRequests.RequestBytesMax - 1, true)]
    [InlineData(GuardedRequests.RequestBytesMax, false)]
    public async Task RequestBytesMax_is_one_more_than_a_request_may_have(int bytes, bool isRead)
    {
        await using PageHost host = await PageHost.StartAsync();
        string json = "{}".PadRight(bytes);
        (System.Net.HttpStatusCode status, _) = await host.PostAsync("study-plan", json);
        Assert.Equal(isRead, status != System.Net.HttpStatusCode.BadRequest);
    }

    [Fact]
    public void What_a_request_holds_in_lists_is_a_number_or_a_kind_of_request_too() => Assert.All(
        Asks.SelectMany(row => Sendable(row.Data)).Where(p => p.PropertyType != typeof(string)
            && p.PropertyType.IsAssignableTo(typeof(IEnumerable))),
        p
            => Assert.True(p.PropertyType.GetGenericArguments()[0].IsPrimitive
            || p.PropertyType.GetGenericArguments()[0].IsAssignableTo(typeof(IPageRequest)), $"{p.DeclaringType}.{p.Name}"));

    // What stands in the address is not read from the body.
    private static IEnumerable<PropertyInfo> Sendable(Type type)
        => type.GetProperties(BindingFlags.Public | BindingFlags.Instance)
            .Where(p => p.CanWrite && p.GetCustomAttribute<JsonIgnoreAttribute>() is null);
}
