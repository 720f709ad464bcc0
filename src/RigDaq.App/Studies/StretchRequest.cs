namespace RigDaq.App.Studies;

/// <summary>What a page says of one stretch of a print: that it could not be printed, or that it was after all.</summary>
internal sealed record StretchRequest : IPageRequest
{
    public string Study { get; set; } = "";

    public string Print { get; set; } = "";

    /// <summary>The stretch's setting; null where the study has none.</summary>
    public decimal? Setting { get; set; }

    /// <summary>Why, in the person's own words.</summary>
    public string Text { get; set; } = "";

    /// <summary>How many times it was tried, 1 or more.</summary>
    public int Tries { get; set; } = 1;

    /// <summary>How many specimens were cut from it, where it was printed after all.</summary>
    public int Specimens { get; set; }
}

/// <summary>Prints that were entered one for each setting and are one piece.</summary>
internal sealed record JoinRequest : IPageRequest
{
    public string Study { get; set; } = "";

    /// <summary>Their ids, one a line, from the print bed upwards.</summary>
    public string Prints { get; set; } = "";

    /// <summary>Why, in the person's own words.</summary>
    public string Text { get; set; } = "";
}

/// <summary>The questions of a plan.</summary>
internal sealed record QuestionsRequest : IPageRequest
{
    public string Study { get; set; } = "";

    /// <summary>Their names (docs/statistics.md), one a line.</summary>
    public string Questions { get; set; } = "";

    /// <summary>The material that the others are compared with; empty for all pairs.</summary>
    public string ReferenceMaterial { get; set; } = "";

    /// <summary>How many per cent of the reference setting's strength is asked to be kept.</summary>
    public double KeepsPercent { get; set; } = 90;

    /// <summary>Why; wanted where the plan is frozen.</summary>
    public string Text { get; set; } = "";

    /// <summary>Whether the plan is frozen with them.</summary>
    public bool Freeze { get; set; }
}
