using System.Globalization;
using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;
using RigDaq.Protocol.Messages;

namespace RigDaq.Protocol.Tests.Messages;

/// <summary>
/// The wire's numbers stand three times: for people in PROTOCOL.md, for the firmware in wire.h, for the program in its enumerations.
/// Whoever adds one in a single place is told here of the other two.
/// </summary>
public sealed partial class WireNumbersTest
{
    // What the header calls otherwise.
    private static readonly Dictionary<string, string> OtherName = new()
    {
        ["FAULT_KEEP_ALIVE"] = "KeepAliveLost",
        ["FAULT_GUARD"] = "GuardOpened",
        ["FAULT_FORCE"] = "ForceLimit",
        ["FAULT_TRAVEL"] = "TravelLimit",
        ["FAULT_TIME"] = "TimeLimit",
        ["STATE_MOTOR_POWERED"] = "MotorEnabled",
        ["MOVE_BY_SPEED"] = "Speed",
        ["MOVE_TO_POSITION"] = "Position",
    };

    // Bounds of ranges, no messages.
    private static readonly string[] NoMessage = ["MSG_COMMAND_FIRST", "MSG_COMMAND_LAST"];

    public static TheoryData<string, Type> Kinds => new()
    {
        { "MSG_", typeof(MessageType) }, { "CAN_", typeof(Capabilities) }, { "INPUT_", typeof(InputStates) },
            { "STATE_", typeof(StateBits) },
        { "MOTION_", typeof(MotionState) }, { "FAULT_", typeof(DeviceFaults) }, { "EVENT_", typeof(DeviceEventCode) },
        { "RESULT_", typeof(AnswerResult) }, { "CHANNEL_", typeof(ChannelKind) }, { "MOVE_", typeof(MoveKind) },
    };

    [Theory]
    [MemberData(nameof(Kinds))]
    public void The_firmwares_header_and_the_program_have_the_same_numbers(string prefix, Type kind)
    {
        string header = Comment().Replace(File.ReadAllText(InRepository("firmware-protocol", "core", "wire.h")), "");
        Dictionary<string, long> there = Enums().Matches(header).SelectMany(match => Members(match.Groups["members"].Value))
            .Where(member => member.Name.StartsWith(prefix, StringComparison.Ordinal) && !NoMessage.Contains(member.Name))
            .ToDictionary(member => OtherName.GetValueOrDefault(member.Name) ?? Pascal(member.Name[prefix.Length..]),
                member => member.Value);
        Assert.Equal(Here(kind), there);
    }

    [Theory]
    [InlineData(typeof(MessageType))]
    [InlineData(typeof(Capabilities))]
    [InlineData(typeof(InputStates))]
    [InlineData(typeof(DeviceFaults))]
    [InlineData(typeof(DeviceEventCode))]
    [InlineData(typeof(AnswerResult))]
    public void Every_number_of_the_program_stands_in_the_protocol(Type kind)
    {
        HashSet<(string Number, string Name)> told = [.. File.ReadLines(InRepository("firmware-protocol", "PROTOCOL.md"))
            .Select(line => line.Split('|', StringSplitOptions.TrimEntries)).Where(cells => cells.Length > 3)
            .SelectMany(cells => cells[1].Split(" / ").Zip(cells[2].Replace("`", "", StringComparison.Ordinal).Split(" / ")))];
        // What a device sends has a section of its own instead.
        string headings = string
            .Join('\n', File.ReadLines(InRepository("firmware-protocol", "PROTOCOL.md")).Where(line => line.StartsWith('#')));
        bool areBits = kind.IsDefined(typeof(FlagsAttribute), false);
        foreach ((string name, long value) in Here(kind))
        {
            string number = kind == typeof(MessageType) ? $"0x{value:X2}"
                : (areBits ? long.Log2(value) : value).ToString(CultureInfo.InvariantCulture);
            Assert.True(told.Contains((number, name)) || headings.Contains($"{name}, {number}", StringComparison.Ordinal),
                $"PROTOCOL.md does not tell of {number} {name}.");
        }
    }

    // What is never sent stands for "nothing" in the program alone.
    private static Dictionary<string, long> Here(Type kind) => Enum.GetNames(kind)
        .Where(name => name != "None")
            .ToDictionary(name => name, name => Convert.ToInt64(Enum.Parse(kind, name), CultureInfo.InvariantCulture));

    private static IEnumerable<(string Name, long Value)> Members(string list)
    {
        long next = 0;
        foreach (string member in list.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            string[] parts = member.Split('=', StringSplitOptions.TrimEntries);
            if (parts.Length > 1) next = Value(parts[1]);
            yield return (parts[0], next++);
        }
    }

    private static long Value(string text) => text switch
    {
        _ when text.StartsWith("0x", StringComparison.Ordinal)
            => long.Parse(text[2..], NumberStyles.HexNumber, CultureInfo.InvariantCulture),
        _ when text.Split("<<") is [var one, var bit]
            => long.Parse(one, CultureInfo.InvariantCulture) << int.Parse(bit, CultureInfo.InvariantCulture),
        _ => long.Parse(text, CultureInfo.InvariantCulture),
    };

    private static string Pascal(string name) =>
        string.Concat(name.Split('_').Select(word => char.ToUpperInvariant(word[0]) + word[1..].ToLowerInvariant()));

    private static string InRepository(params string[] path) => Path.Combine([Root(), .. path]);

    private static string Root([CallerFilePath] string here = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", "..", ".."));

    [GeneratedRegex(@"/\*.*?\*/", RegexOptions.Singleline)]
    private static partial Regex Comment();

    [GeneratedRegex(@"enum\s*\{(?<members>[^}]*)\}")]
    private static partial Regex Enums();
}
