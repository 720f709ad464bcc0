using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Core.Specimens;

namespace RigDaq.App.Studies;

/// <summary>A group as a person names it: material, condition and setting, separated by commas.</summary>
internal static class GroupName
{
    private const int NamedMax = 10;

    /// <summary>The group of that name.</summary>
    /// <param name="text">"Kept, fan off, 220".</param>
    /// <param name="groups">Those that there are.</param>
    /// <exception cref="InputException">None has that name; the message names those that are there.</exception>
    public static GroupKey Find(string text, IEnumerable<GroupKey> groups)
    {
        GroupKey[] all = [.. groups.Distinct()];
        string wanted = Spelt(text);
        return all.FirstOrDefault(group => Spelt(group.Describe("")) == wanted)
            ?? throw new InputException(AppText.GroupNotThere(text, [.. all.Take(NamedMax).Select(group => group.Describe(""))]));
    }

    private static string Spelt(string name) => string.Join(",", name.Split(',').Select(part => part.Trim()));
}
