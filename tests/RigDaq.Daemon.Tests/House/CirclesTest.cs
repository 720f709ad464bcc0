using System.Reflection;
using Mono.Cecil;
using Mono.Cecil.Cil;

namespace RigDaq.Daemon.Tests.House;

/// <summary>Inside a room the folders know each other one way only, too: no namespace is known by one that it knows.</summary>
public sealed class CirclesTest
{
    public static TheoryData<string> Rooms =>
        ["rigdaq", "RigDaq.Web", "RigDaq.App", "RigDaq.Core", "RigDaq.Protocol", "RigDaq.Rig", "RigDaq.VirtualRig", "RigDaq.Archive",
            "RigDaq.Publishing", "RigDaq.Reports", "RigDaq.Tables"];

    /// <summary>Folders in the order in which a sample walks through them: none knows one that comes after it.</summary>
    private static readonly Dictionary<string, string[]> Walk = new()
    {
        ["RigDaq.Core"] = ["Signal", "Pulls", "Trace", "Strength", "Runs", "Groups", "Questions", "Comparisons"],
        ["RigDaq.Reports"] = ["Model", "Pictures", "Document", "Html"],
    };

    public static TheoryData<string> Walked => [.. Walk.Keys];

    [Theory]
    [MemberData(nameof(Rooms))]
    public void Folders_of_a_room_know_each_other_one_way_only(string room)
    {
        Dictionary<string, HashSet<string>> known = KnownBySpace(room);
        string[] round = [.. known.Keys.Where(space => Reached(known, space).Contains(space)).Order(StringComparer.Ordinal)];
        Assert.Equal("", string.Join('\n', round));
    }

    [Theory]
    [MemberData(nameof(Walked))]
    public void No_folder_knows_one_that_comes_after_it_in_the_walk(string room)
    {
        Dictionary<string, HashSet<string>> known = KnownBySpace(room);
        string[] spaces = [.. Walk[room].Select(folder => $"{room}.{folder}")];
        Assert.All(spaces, space => Assert.Contains(space, known.Keys));
        Assert.All(spaces.Index(), place => Assert.Empty(Reached(known, place.Item).Intersect(spaces[(place.Index + 1)..])));
    }

    private static Dictionary<string, HashSet<string>> KnownBySpace(string room)
    {
        using ModuleDefinition module = ModuleDefinition.ReadModule(Assembly.Load(room).Location);
        Dictionary<string, HashSet<string>> known = [];
        foreach (TypeDefinition type in module.GetTypes())
        {
            string own = SpaceOf(type);
            if (!IsOurs(own)) continue;
            HashSet<string> knows = known.TryGetValue(own, out HashSet<string>? before) ? before : known[own] = [];
            knows.UnionWith(Named(type).SelectMany(Parts).Where(part => part.Scope == module || part is TypeDefinition).Select(SpaceOf)
                .Where(space => IsOurs(space) && space != own));
        }

        return known;
    }

    private static HashSet<string> Reached(Dictionary<string, HashSet<string>> known, string from)
    {
        var reached = new HashSet<string>();
        var left = new Stack<string>([from]);
        while (left.TryPop(out string? space))
        {
            foreach (string next in known.GetValueOrDefault(space, [])) if (reached.Add(next)) left.Push(next);
        }

        return reached;
    }

    private static bool IsOurs(string space) => space.StartsWith("RigDaq.", StringComparison.Ordinal);

    private static string SpaceOf(TypeReference type)
    {
        while (type.DeclaringType is { } outer) type = outer;
        return type.Namespace;
    }

    /// <summary>Every type that a type names: what it is, holds, takes, gives, and what its code touches.</summary>
    private static IEnumerable<TypeReference> Named(TypeDefinition type)
    {
        if (type.BaseType is { } parent) yield return parent;
        foreach (InterfaceImplementation face in type.Interfaces) yield return face.InterfaceType;
        foreach (FieldDefinition field in type.Fields) yield return field.FieldType;
        foreach (MethodDefinition method in type.Methods)
        {
            yield return method.ReturnType;
            foreach (ParameterDefinition parameter in method.Parameters) yield return parameter.ParameterType;
            if (!method.HasBody) continue;
            foreach (VariableDefinition variable in method.Body.Variables) yield return variable.VariableType;
            foreach (Instruction instruction in method.Body.Instructions)
            {
                if (instruction.Operand is TypeReference touched) yield return touched;
                if (instruction.Operand is not MemberReference member || member is TypeReference) continue;
                yield return member.DeclaringType;
                if (member is MethodReference called)
                {
                    yield return called.ReturnType;
                    foreach (ParameterDefinition parameter in called.Parameters) yield return parameter.ParameterType;
                    if (called is GenericInstanceMethod generic) foreach (TypeReference argument in generic.GenericArguments) yield return
                        argument;
                }

                if (member is FieldReference read) yield return read.FieldType;
            }
        }
    }

    /// <summary>A type with those that it is made of: an element, arguments.</summary>
    private static IEnumerable<TypeReference> Parts(TypeReference? type)
    {
        if (type is null) yield break;
        if (type is GenericInstanceType generic)
        {
            foreach (TypeReference part in generic.GenericArguments.SelectMany(Parts)) yield return part;
        }

        if (type is TypeSpecification made)
        {
            foreach (TypeReference part in Parts(made.ElementType)) yield return part;
        }
        else if (type is not GenericParameter)
        {
            yield return type;
        }
    }
}
