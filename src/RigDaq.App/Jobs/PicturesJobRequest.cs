using RigDaq.App.Reporting;

namespace RigDaq.App.Jobs;

/// <summary>A study's pictures are asked for.</summary>
internal sealed class PicturesJobRequest : IStudyRequest
{
    /// <inheritdoc/>
    public string Study { get; set; } = "";

    /// <summary>How they are drawn: one of <see cref="PictureFiles.Styles"/>.</summary>
    public string Style { get; set; } = PictureFiles.PageStyle;

    /// <summary>16:9, 9:16 or 1:1 instead of a style; empty for none.</summary>
    public string Ratio { get; set; } = "";

    /// <summary>svg or png.</summary>
    public string Format { get; set; } = "svg";

    /// <summary>Names, or their beginnings, of those that are wanted, with commas between them; empty for all.</summary>
    public string Only { get; set; } = "";

    /// <summary>A title of one's own; empty for the study's.</summary>
    public string Title { get; set; } = "";

    /// <summary>Whether the figures stand beside the points.</summary>
    public bool Values { get; set; }

    /// <summary>Light on dark.</summary>
    public bool Dark { get; set; }

    /// <summary>Without a ground.</summary>
    public bool Transparent { get; set; }

    /// <summary>Whether each comes as a series that builds it up.</summary>
    public bool BuildUp { get; set; }
}
