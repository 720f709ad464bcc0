using System.Text.Json.Serialization;
using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Core;
using RigDaq.Rig.Control;

namespace RigDaq.App;

/// <summary>What became of what a person asked for.</summary>
/// <param name="Done">Whether it was done, or begun where it takes time.</param>
/// <param name="Message">One sentence for the person who asked.</param>
/// <param name="Reasons">Where it was not done: everything that stands against it; where it was: what is to be known besides.</param>
internal sealed record Result(bool Done, string Message, IReadOnlyList<string> Reasons)
{
    /// <summary>Whether it was not done for this moment only.</summary>
    public bool IsPassing { get; init; }

    /// <summary>Why it was not done, for programs: the text's key, whatever it says; empty where it was done or nobody named it.</summary>
    [JsonIgnore]
    public string Code { get; init; } = "";

    /// <summary>It was done.</summary>
    public static Result Ok(string message) => new(true, message, []);

    /// <summary>It was not, for a reason among the texts of the pages.</summary>
    /// <param name="key">The text's key: the code of the refusal.</param>
    /// <param name="values">What belongs into its places.</param>
    public static Result Refused(string key, params ReadOnlySpan<(string Name, object? Value)> values)
        => Because(PageText.Of(key, values)) with { Code = key };

    /// <summary>It was not, for reasons in words of somebody else.</summary>
    public static Result Because(params IReadOnlyList<string> reasons) => new(false, string.Join(" ", reasons), reasons);

    /// <summary>What a rig answered.</summary>
    public static Result From(CommandResult result) => new(result.Done, result.Message, result.Reasons) { IsPassing = result.IsPassing };

    /// <summary>What a rig answers.</summary>
    public static async Task<Result> FromAsync(Task<CommandResult> result) => From(await result.ConfigureAwait(false));

    /// <summary>What <paramref name="work"/> gives; where it refuses, meets another correction or cannot keep anything, that. A fault of
    /// ours is none of these.</summary>
    /// <param name="work">Asks and keeps.</param>
    /// <param name="meanwhile">The key of what is said where somebody else was faster.</param>
    public static Result Of(Func<Result> work, string meanwhile = "answers.studyChangedMeanwhile")
    {
        try
        {
            return work();
        }
        catch (RefusalException refusal)
        {
            return Because(refusal.Message.Split(Environment.NewLine)) with { Code = refusal.Code };
        }
        catch (ArchiveConflictException)
        {
            return Refused(meanwhile);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return Refused("answers.notKept", ("why", fault.Message));
        }
    }
}
