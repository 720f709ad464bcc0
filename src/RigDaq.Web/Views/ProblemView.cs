using RigDaq.App;
using RigDaq.Core.Quantities;

namespace RigDaq.Web.Views;

/// <summary>What was not done, and why: problem details (RFC 9457), with members of our own besides.</summary>
/// <param name="Type">A name for the kind of problem, which stays whatever the words say.</param>
/// <param name="Title">What the status means, as HTTP has it.</param>
/// <param name="Status">The HTTP status.</param>
/// <param name="Detail">For the person who asked, in the chosen units.</param>
/// <param name="Code">Of the first reason; empty where the words are somebody else's.</param>
/// <param name="Done">False.</param>
/// <param name="Message">The detail once more, as in an answer of what was done.</param>
/// <param name="Reasons">Everything that stands against it.</param>
/// <param name="Codes">Of the reasons, one each.</param>
/// <param name="IsPassing">Whether it was not done for this moment only.</param>
internal sealed record ProblemView(string Type, string Title, int Status, string Detail, string Code, bool Done, string Message,
    IReadOnlyList<string> Reasons, IReadOnlyList<string> Codes, bool IsPassing)
{
    /// <summary>How problems are named that have no code: RFC 9457, 4.2.1.</summary>
    private const string Unnamed = "about:blank";

    internal static ProblemView Of(Result result, int status, Units units)
    {
        ResultView said = ResultView.Of(result, units);
        string code = said.Codes is [{ } first, ..] ? first : "";
        return new ProblemView(code.Length == 0 ? Unnamed : "urn:rigdaq:problem:" + code,
            Microsoft.AspNetCore.WebUtilities.ReasonPhrases.GetReasonPhrase(status), status, said.Message, code, false, said.Message,
            said.Reasons, said.Codes, said.IsPassing);
    }
}
