using RigDaq.App;
using RigDaq.Core.Quantities;
using RigDaq.Text;

namespace RigDaq.Web.Views;

/// <summary>What became of what a page asked for.</summary>
/// <param name="Done">Whether it was done, or begun where it takes time.</param>
/// <param name="Message">For the person who asked.</param>
/// <param name="Reasons">Where it was not done: everything that stands against it; where it was: what is to be known besides.</param>
/// <param name="Codes">Of the reasons, one each, for programs: they stay whatever the words say. Empty where the words are somebody
/// else's.</param>
/// <param name="IsPassing">Whether it was not done for this moment only.</param>
internal sealed record ResultView(bool Done, string Message, IReadOnlyList<string> Reasons, IReadOnlyList<string> Codes, bool IsPassing)
{
    internal static ResultView Of(Result result, Units units) => new(result.Done, result.Message.In(units),
        result.Reasons.In(units), [.. result.Reasons.Select(reason => reason.Code)], result.IsPassing);
}
