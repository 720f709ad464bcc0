namespace RigDaq.Core.Text;

/// <summary>Who is set against whom, where.</summary>
/// <param name="Kind">What is asked.</param>
/// <param name="First">The first.</param>
/// <param name="Second">The second.</param>
/// <param name="At">The setting with its unit.</param>
/// <param name="From">The other setting.</param>
/// <param name="Settings">Over so many; null where it is two ends.</param>
internal sealed record SubjectNames(AnswerSubject Kind, string First, string Second, string At, string From, int? Settings);
