using System.Collections;
using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using RigDaq.App.Configuration;

namespace RigDaq.Daemon.Tests.House;

/// <summary>docs/configuration.md names every key there is, no other, and the defaults that hold.</summary>
public sealed partial class ConfigurationPageTest
{
    private static readonly Dictionary<string, string> Told = Rows();
    private static readonly Dictionary<string, object?> There = [];

    static ConfigurationPageTest()
    {
        var options = new DaemonOptions { Serial = new SerialOptions { Lines = new LineOptions(), Queries = new QueryOptions() } };
        Gather("", options, There);
    }

    [Fact]
    public void Every_key_is_told_and_no_other()
        => Assert.Equal(There.Keys.Order(StringComparer.Ordinal), Told.Keys.Order(StringComparer.Ordinal));

    [Fact]
    public void The_defaults_are_those_of_the_program()
    {
        // What stands in words ("none", "the user's data folder", "1883, over TLS 8883") is for people to read.
        string[] wrong = [.. There.Where(key => key.Value is not null && !(key.Value is string text && text.Length == 0))
            .Where(key => Text(key.Value!) != Told[key.Key])
            .Select(key => $"{key.Key}: {Text(key.Value!)}, the page says {Told[key.Key]}")];
        Assert.Equal("", string.Join('\n', wrong));
    }

    private static string Text(object value) => value switch
    {
        bool flag => flag ? "true" : "false",
        IEnumerable list and not string => list.Cast<object>().Any() ? "some" : "none",
        _ => Convert.ToString(value, CultureInfo.InvariantCulture)!,
    };

    private static void Gather(string prefix, object section, Dictionary<string, object?> keys)
    {
        foreach (var property in section.GetType().GetProperties().Where(property => property.CanWrite))
        {
            string key = prefix + JsonNamingPolicy.CamelCase.ConvertName(property.Name);
            object? value = property.GetValue(section);
            if (value is null or string or ValueType or IEnumerable) keys[key] = value;
            else Gather(key + ".", value, keys);
        }
    }

    /// <summary>Keys and defaults of the table; a row may tell of several keys, with one default or one each.</summary>
    private static Dictionary<string, string> Rows()
    {
        var rows = new Dictionary<string, string>();
        foreach (string line in File.ReadAllLines(Page.Of("docs", "configuration.md").File)
            .Where(line => line.StartsWith("| `", StringComparison.Ordinal)))
        {
            string[] cells = line.Split('|', StringSplitOptions.TrimEntries);
            string[] keys = [.. Key().Matches(cells[1]).Select(key => key.Groups[1].Value)];
            string[] defaults = cells[2].Replace("`", "", StringComparison.Ordinal).Split(", ");
            for (int i = 0; i < keys.Length; i++) rows[keys[i]] = defaults.Length == keys.Length ? defaults[i] : cells[2];
        }

        return rows;
    }

    [GeneratedRegex("`([^`]+)`")]
    private static partial Regex Key();
}
