using System.Reflection;
using Mono.Cecil;

namespace RigDaq.Daemon.Tests.House;

/// <summary>
/// A method or constructor takes seven parameters at the most; what needs more takes a record. Rooms that still have longer ones stand here
/// by name, and have to leave once they have none.
/// </summary>
public sealed class ParametersTest
{
    private const int ParametersMax = 7;

    private static readonly string[] StillLong = [];

    public static TheoryData<string> Rooms => CirclesTest.Rooms;

    [Theory]
    [MemberData(nameof(Rooms))]
    public void What_is_called_takes_seven_parameters_at_the_most(string room)
    {
        using ModuleDefinition module = ModuleDefinition.ReadModule(Assembly.Load(room).Location);
        string[] tooLong = [.. module.GetTypes().Where(IsOurs).SelectMany(type => type.Methods)
            .Where(method => method.Parameters.Count > ParametersMax && IsWritten(method)).Select(method => method.FullName)];
        if (StillLong.Contains(room)) Assert.NotEmpty(tooLong);
        else Assert.Empty(tooLong);
    }

    // A sentence has as many holes as there is to say.
    private static bool IsOurs(TypeDefinition type) =>
        type.Namespace.StartsWith("RigDaq.", StringComparison.Ordinal) && !type.Namespace.EndsWith(".Text", StringComparison.Ordinal);

    // What the compiler makes of a positional record, or of code within a method, nobody wrote.
    private static bool IsWritten(MethodDefinition method) => !method.Name.Contains('<') && method.Name != "Deconstruct"
        && !(method.IsConstructor
            && method.DeclaringType.Methods.Any(other => other.Name == "Deconstruct" && other.Parameters.Count == method.Parameters.Count));
}
