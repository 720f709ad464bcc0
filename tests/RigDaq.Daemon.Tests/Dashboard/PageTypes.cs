using System.Collections;
using System.Reflection;
using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.RegularExpressions;
using RigDaq.Text;
using RigDaq.Web.Views;

namespace RigDaq.Daemon.Tests.Dashboard;

/// <summary>
/// What the pages' scripts may expect of what they are sent, as TypeScript's interfaces, made from the records that the program writes as
/// JSON: a member that is renamed in one of them and not in the script that reads it is found by the checker of types.
/// </summary>
internal static partial class PageTypes
{
    private static readonly NullabilityInfoContext Nullability = new();

    /// <summary>The interfaces of every record that a page is sent, in the order of their names.</summary>
    public static string Declared()
    {
        var text = new StringBuilder("// Made from the program's records by ScriptsTest; RIGDAQ_WRITE=1 makes it anew.\n");
        foreach (Type type in Shown().OrderBy(type => type.Name, StringComparer.Ordinal))
        {
            text.Append("export interface ").Append(type.Name).Append(" {\n");
            foreach (PropertyInfo member in Members(type))
            {
                string name = JsonNamingPolicy.CamelCase.ConvertName(member.Name);
                bool mayBeNull = Nullability.Create(member).ReadState == NullabilityState.Nullable;
                text.Append("  ").Append(name).Append(": ").Append(Name(member.PropertyType)).Append(mayBeNull ? " | null" : "")
                    .Append(";\n");
            }

            text.Append("}\n");
        }

        return text.ToString();
    }

    // What is written, and what stands in it.
    private static HashSet<Type> Shown()
    {
        var found = new HashSet<Type>();
        var open = new Stack<Type>(typeof(DashboardJson).GetCustomAttributesData()
            .Where(each => each.AttributeType == typeof(JsonSerializableAttribute))
                .Select(each => (Type)each.ConstructorArguments[0].Value!)
            .Where(type => IsRecord(type) && !Asked().IsMatch(type.Name)));
        while (open.TryPop(out Type? type))
        {
            if (!found.Add(type)) continue;
            foreach (Type inner in Members(type).Select(member => Inner(member.PropertyType)).Where(IsRecord)) open.Push(inner);
        }

        return found;
    }

    // What a page asks is read by the program, which refuses what it does not know.
    [GeneratedRegex("(Ask|Request)$")]
    private static partial Regex Asked();

    private static IEnumerable<PropertyInfo> Members(Type type) =>
        type.GetProperties(BindingFlags.Public | BindingFlags.Instance)
            .Where(member => member.GetCustomAttribute<JsonIgnoreAttribute>() is null);

    private static Type Inner(Type type)
    {
        Type bare = Nullable.GetUnderlyingType(type) ?? type;
        return bare != typeof(string) && typeof(IEnumerable).IsAssignableFrom(bare) && bare.IsGenericType
            ? Inner(bare.GetGenericArguments()[^1]) : bare;
    }

    private static bool IsRecord(Type type) =>
        type is { IsEnum: false, IsPrimitive: false } && type != typeof(Sentence)
            && type.Namespace!.StartsWith("RigDaq", StringComparison.Ordinal);

    private static string Name(Type type)
    {
        Type bare = Nullable.GetUnderlyingType(type) ?? type;
        if (bare == typeof(bool)) return "boolean";
        if (bare.IsPrimitive || bare == typeof(decimal)) return "number";
        if (bare == typeof(string) || bare == typeof(Sentence) || bare.IsEnum || bare == typeof(DateTimeOffset)
            || bare == typeof(Guid)) return "string";
        if (IsRecord(bare)) return bare.Name;
        Type[] of = bare.IsGenericType ? bare.GetGenericArguments() : [];
        return of.Length switch
        {
            1 when typeof(IEnumerable).IsAssignableFrom(bare) => $"{Name(of[0])}[]",
            2 when typeof(IEnumerable).IsAssignableFrom(bare) => $"Record<string, {Name(of[1])}>",
            _ => "unknown",
        };
    }
}
