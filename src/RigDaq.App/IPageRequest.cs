namespace RigDaq.App;

/// <summary>What a page asks. What it leaves out is at its default, so every member can be set: the compiled reader builds a type whose
/// members can only be initialised with all of them, and what was not sent would be null or 0.</summary>
internal interface IPageRequest;
