using RigDaq.App.Text;
using RigDaq.Archive.Faults;
using RigDaq.Core;
using RigDaq.Rig.Control;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.App;

/// <summary>What became of what a person asked for.</summary>
/// <param name="Done">Whether it was done, or begun where it takes time.</param>
/// <param name="Message">For the person who asked.</param>
/// <param name="Reasons">Where it was not done: everything that stands against it; where it was: what is to be known besides.</param>
internal sealed record Result(bool Done, Sentence Message, IReadOnlyList<Sentence> Reasons)
{
    /// <summary>Whether it was not done for this moment only.</summary>
    public bool IsPassing { get; init; }

    /// <summary>It was done, and there is nothing to say.</summary>
    public static Result Ok() => new(true, Sentence.None, []);

    /// <summary>It was done.</summary>
    /// <param name="key">Of a text of the pages.</param>
    /// <param name="values">What belongs into its places.</param>
    public static Result Ok(string key, params ReadOnlySpan<(string Name, object? Value)> values) =>
        new(true, PageText.Sentence(key, values), []);

    /// <summary>It was not, for a reason among the texts of the pages.</summary>
    /// <param name="key">The text's key: the code of the refusal.</param>
    /// <param name="values">What belongs into its places.</param>
    public static Result Refused(string key, params ReadOnlySpan<(string Name, object? Value)> values) =>
        Because(PageText.Sentence(key, values));

    /// <summary>It was not.</summary>
    public static Result Because(params IReadOnlyList<Sentence> reasons) => new(false, reasons.Joined(), reasons);

    /// <summary>Several sentences as one.</summary>
    public static Sentence Several(params IReadOnlyList<Sentence> sentences) => sentences.Joined();

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
            return Because(refusal.Reasons);
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
