using System.Reflection;
using NetArchTest.Rules;

namespace RigDaq.Daemon.Tests.House;

/// <summary>Holds the walls of the house (DEVELOPERS.md, "How the house is laid out").</summary>
public sealed class WhoMayKnowWhomTest
{
    private static readonly Dictionary<string, string[]> MayKnow = new()
    {
        ["RigDaq.Text"] = [],
        ["RigDaq.Core"] = ["RigDaq.Text"],
        ["RigDaq.Protocol"] = [],
        ["RigDaq.Rig"] = ["RigDaq.Text", "RigDaq.Protocol", "RigDaq.Core"],
        ["RigDaq.VirtualRig"] = ["RigDaq.Text", "RigDaq.Protocol", "RigDaq.Core"],
        ["RigDaq.Archive"] = ["RigDaq.Text", "RigDaq.Core"],
        ["RigDaq.Publishing"] = ["RigDaq.Text", "RigDaq.Core"],
        ["RigDaq.Reports"] = ["RigDaq.Text", "RigDaq.Core"],
        ["RigDaq.Tables"] = ["RigDaq.Text"],
        ["RigDaq.App"] = ["RigDaq.Text", "RigDaq.Core", "RigDaq.Protocol", "RigDaq.Rig", "RigDaq.Archive", "RigDaq.Publishing",
            "RigDaq.Reports", "RigDaq.Tables"],
        ["RigDaq.Web"] = ["RigDaq.Text", "RigDaq.Core", "RigDaq.Protocol", "RigDaq.Rig", "RigDaq.Archive", "RigDaq.Publishing",
            "RigDaq.Reports", "RigDaq.Tables", "RigDaq.App"],
    };

    /// <summary>
    /// What would make the measurement depend on a disk, a network, a clock or a thread. System.Environment is not among them:
    /// the iterators that the compiler writes ask it for their thread.
    /// </summary>
    private static readonly string[] Impure =
    [
        "System.IO.File", "System.IO.FileStream", "System.IO.Directory", "System.IO.StreamReader", "System.IO.StreamWriter",
        "System.Net", "System.Console", "System.Threading.Thread", "System.Threading.Timer", "System.Threading.Monitor",
        "System.Diagnostics.Stopwatch", "System.TimeProvider", "Microsoft.Extensions.Logging",
    ];

    public static TheoryData<string> Rooms => [.. MayKnow.Keys];

    [Theory]
    [MemberData(nameof(Rooms))]
    public void A_room_knows_only_whom_it_may(string room)
    {
        string[] known = [.. Assembly.Load(room).GetReferencedAssemblies().Select(a => a.Name!).Where(IsOurs)];
        Assert.Empty(known.Except(MayKnow[room]));
    }

    [Fact]
    public void Every_room_has_its_rule()
    {
        string[] rooms = [.. Directory.EnumerateFiles(AppContext.BaseDirectory, "RigDaq.*.dll")
            .Select(f => Path.GetFileNameWithoutExtension(f))
            .Where(name => !name.EndsWith(".Tests", StringComparison.Ordinal))];
        Assert.Equal(MayKnow.Keys.Order(), rooms.Order());
    }

    [Fact]
    public void The_core_is_pure()
    {
        NetArchTest.Rules.TestResult result = Types.InAssembly(Assembly.Load("RigDaq.Core")).ShouldNot().HaveDependencyOnAny(Impure)
            .GetResult();
        Assert.Empty(result.FailingTypeNames ?? []);
    }

    [Fact]
    public void What_the_program_does_knows_neither_a_console_nor_pages_nor_a_command_line()
    {
        NetArchTest.Rules.TestResult result = Types.InAssembly(Assembly.Load("RigDaq.App"))
            .ShouldNot().HaveDependencyOnAny("System.Console", "Microsoft.AspNetCore", "System.CommandLine").GetResult();
        Assert.Empty(result.FailingTypeNames ?? []);
    }

    private static bool IsOurs(string name) => name.StartsWith("RigDaq.", StringComparison.Ordinal) || name == "rigdaq";
}
