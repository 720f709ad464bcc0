using System.Collections;
using System.Collections.Concurrent;
using System.Reflection;
using System.Text.Json.Serialization;
using RigDaq.Archive.Text;

namespace RigDaq.Archive.Storage;

/// <summary>
/// Looks through a whole record for what its type does not allow and a reader of JSON lets pass: a null within a list or for a member that
/// was left out, a word that no enumeration has, and, where asked, figures that are none.
/// </summary>
internal static class RecordProof
{
    private static readonly ConcurrentDictionary<Type, Member[]> Known = new();

    /// <summary>What is wrong, with its place in the record; null for nothing.</summary>
    /// <param name="record">The record.</param>
    /// <param name="finite">Whether NaN and infinite figures are wrong, too.</param>
    public static string? Fault(object record, bool finite) => Look(record, "", finite);

    private static string? Look(object value, string path, bool finite)
    {
        Type type = value.GetType();
        if (value is double figure) return finite && !double.IsFinite(figure) ? ArchiveText.RecordNotFinite(Place(path)) : null;
        if (type.IsEnum) return Enum.IsDefined(type, value) || type.IsDefined(typeof(FlagsAttribute)) ? null
            : ArchiveText.RecordNoSuchWord(Place(path), value.ToString()!);
        if (IsPlain(type)) return null;
        foreach (Member member in Known.GetOrAdd(type, MembersOf))
        {
            string place = path.Length == 0 ? member.Name : path + "." + member.Name;
            object? content = member.Get(value);
            string? fault = content is null ? member.MayBeNull ? null : ArchiveText.RecordNull(place)
                : LookInside(content, member, place, finite);
            if (fault is not null) return fault;
        }

        return null;
    }

    private static string? LookInside(object content, Member member, string path, bool finite)
    {
        if (content is string || content is not IEnumerable all) return Look(content, path, finite);
        int index = 0;
        foreach (object? element in content is IDictionary dictionary ? dictionary.Values : all)
        {
            string place = $"{path}[{index++}]";
            string? fault = element is null ? member.ElementMayBeNull ? null : ArchiveText.RecordNull(place) : Look(element, place, finite);
            if (fault is not null) return fault;
        }

        return null;
    }

    private static Member[] MembersOf(Type type)
    {
        var nullability = new NullabilityInfoContext();
        return [.. type.GetProperties(BindingFlags.Public | BindingFlags.Instance)
            .Where(property => property.CanRead && property.CanWrite && property.GetIndexParameters().Length == 0
                && property.GetCustomAttribute<JsonIgnoreAttribute>() is not { Condition: JsonIgnoreCondition.Always })
            .Select(property =>
            {
                NullabilityInfo info = nullability.Create(property);
                NullabilityInfo? element = info.ElementType ?? info.GenericTypeArguments.LastOrDefault();
                return new Member(
                    char.ToLowerInvariant(property.Name[0]) + property.Name[1..], property.GetValue,
                    info.ReadState != NullabilityState.NotNull, element?.ReadState != NullabilityState.NotNull);
            })];
    }

    private static bool IsPlain(Type type) =>
        type.IsPrimitive || type == typeof(string) || type == typeof(decimal) || type == typeof(DateTimeOffset) || type == typeof(TimeSpan)
            || type == typeof(Guid);

    private static string Place(string path) => path.Length == 0 ? "record" : path;

    private sealed record Member(string Name, Func<object, object?> Get, bool MayBeNull, bool ElementMayBeNull);
}
