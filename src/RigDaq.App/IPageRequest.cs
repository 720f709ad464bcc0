namespace RigDaq.App;

/// <summary>What a page asks. What it leaves out is at its default, so every member can be set: the compiled reader builds a type whose
/// members can only be initialised with all of them, and what was not sent would be null or 0.</summary>
internal interface IPageRequest;

/// <summary>Asked of one study, which stands in the address.</summary>
internal interface IStudyRequest : IPageRequest
{
    /// <summary>The study's id.</summary>
    string Study { get; set; }
}

/// <summary>Asked of something that a person was shown in one state of it: where it changed meanwhile, they are to look again.</summary>
internal interface ISeenRequest : IPageRequest
{
    /// <summary>The number of the state that was shown; it may come as an entity tag as well.</summary>
    int Seen { get; set; }
}
