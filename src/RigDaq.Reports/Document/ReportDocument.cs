namespace RigDaq.Reports.Document;

/// <summary>A whole report.</summary>
/// <param name="Title">Its title.</param>
/// <param name="Subtitle">What stands under it.</param>
/// <param name="Blocks">What it says.</param>
internal sealed record ReportDocument(string Title, string Subtitle, IReadOnlyList<Block> Blocks);
