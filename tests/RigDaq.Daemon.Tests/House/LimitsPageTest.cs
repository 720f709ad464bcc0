using System.Globalization;
using System.Reflection;

namespace RigDaq.Daemon.Tests.House;

/// <summary>docs/limits.md names every bound with its value and the test that holds it: values are read from the code, tests must
/// exist.</summary>
public sealed class LimitsPageTest
{
    private const BindingFlags Anywhere = BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.Static;

    /// <summary>Rooms by the first part of a type's name in the page.</summary>
    private static readonly Assembly[] Rooms =
    [
        Assembly.Load("RigDaq.Rig"), Assembly.Load("RigDaq.Publishing"), Assembly.Load("RigDaq.Archive"), Assembly.Load("rigdaq"),
            Assembly.Load("RigDaq.App"), Assembly.Load("RigDaq.Web"), Assembly.Load("RigDaq.Protocol"), Assembly.Load("RigDaq.Core"),
    ];

    public static TheoryData<string> Rows => [.. Lines().Select(line => line.Split('|', StringSplitOptions.TrimEntries)[3].Trim('`'))];

    [Theory]
    [MemberData(nameof(Rows))]
    public void A_bound_has_the_value_that_the_page_says_and_the_test_that_it_names(string member)
    {
        string[] cells = Lines().Select(line => line.Split('|', StringSplitOptions.TrimEntries)).Single(c => c[3].Trim('`') == member);
        Assert.Equal(Words(Value(member)), cells[2]);
        string[] tests = [.. cells[4].Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)
            .Select(test => test.Trim('`'))];
        Assert.All(tests, AssertIsTest);
        // A test that crosses a bound has its name from the code: the bound can be changed, and the test goes with it. There is
        // no exemption.
        bool isNamed = tests
            .Any(test => Files(test).Any(file => File.ReadAllText(file).Contains(member.Split('.')[1], StringComparison.Ordinal)));
        Assert.True(isNamed, $"No test that the page names for {member} speaks of it.");
    }

    [Fact]
    public void Every_bound_of_the_sequence_and_of_the_links_is_there()
    {
        string[] named = [.. Rows.Select(row => row.Data)];
        foreach (string type in new[] { "SequenceLimits", "LinkTimes" })
        {
            foreach (FieldInfo field in TypeOf(type)
                .GetFields(BindingFlags.Public | BindingFlags.Static)) Assert.Contains($"{type}.{field.Name}", named);
        }
    }

    [Fact]
    public void Every_threat_of_the_security_page_names_tests_that_exist()
    {
        string[] rows = [.. File.ReadLines(Path.Combine(Page.Root(), "docs", "security.md"))
            .SkipWhile(line => !line.StartsWith("| threat |", StringComparison.Ordinal)).Skip(2).TakeWhile(line => line.StartsWith('|'))];
        Assert.True(rows.Length > 20);
        foreach (string row in rows)
        {
            string[] tests = [.. row.Split('|', StringSplitOptions.TrimEntries)[3].Split(',', StringSplitOptions.TrimEntries)
                .Select(t => t.Trim('`'))];
            Assert.NotEmpty(tests);
            Assert.All(tests, AssertIsTest);
        }
    }

    [Fact]
    public void Every_fault_that_was_found_names_tests_that_exist()
    {
        string[] rows = [.. File.ReadLines(Path.Combine(Page.Root(), "DEVELOPERS.md"))
            .SkipWhile(line => !line.StartsWith("| what went wrong |", StringComparison.Ordinal)).Skip(2)
                .TakeWhile(line => line.StartsWith('|'))];
        Assert.True(rows.Length > 30);
        foreach (string row in rows) Assert.All(row.Split('|', StringSplitOptions.TrimEntries)[2]
            .Split(',', StringSplitOptions.TrimEntries), test => AssertIsTest(test.Trim('`')));
    }

    private static IEnumerable<string> Lines()
        => File.ReadLines(Path.Combine(Page.Root(), "docs", "limits.md")).Where(line => line.Contains(" | `", StringComparison.Ordinal));

    private static void AssertIsTest(string name) => Assert.True(
        Files(name).Select(File.ReadAllText).Any(text => text.Contains($"class {name}", StringComparison.Ordinal)
            && (text.Contains("[Fact", StringComparison.Ordinal) || text.Contains("[Theory", StringComparison.Ordinal))),
        $"There is no test {name}.");

    private static IEnumerable<string> Files(string test)
        => Directory.EnumerateFiles(Path.Combine(Page.Root(), "tests"), test + ".cs", SearchOption.AllDirectories);

    private static Type TypeOf(string name)
        => Rooms.SelectMany(room => room.GetTypes()).Single(type => type.Name == name && !type.IsNested);

    private static object Value(string member)
    {
        string[] parts = member.Split('.');
        Type type = TypeOf(parts[0]);
        object? value = type.GetField(parts[1], Anywhere)?.GetValue(null) ?? type.GetProperty(parts[1], Anywhere)?.GetValue(null);
        if (value is null && type.GetProperty(parts[1], BindingFlags.Public | BindingFlags.Instance) is { } property) value = property
            .GetValue(Activator.CreateInstance(type));
        return value ?? throw new InvalidOperationException($"There is no {member}.");
    }

    private static string Words(object value) => value switch
    {
        TimeSpan { TotalDays: >= 1 } time => Text(time.TotalDays) + " d",
        TimeSpan { TotalMinutes: >= 2 } time => Text(time.TotalMinutes) + " min",
        TimeSpan { TotalSeconds: >= 1 } time => Text(time.TotalSeconds) + " s",
        TimeSpan time => Text(time.TotalMilliseconds) + " ms",
        IConvertible number => Text(number.ToDouble(CultureInfo.InvariantCulture)),
        _ => value.ToString()!,
    };

    private static string Text(double number) => number.ToString("#,0.####", CultureInfo.InvariantCulture);
}
