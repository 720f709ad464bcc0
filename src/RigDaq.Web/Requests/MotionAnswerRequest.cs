using RigDaq.App;

namespace RigDaq.Web.Requests;

/// <summary>A person at the rig answers somebody elsewhere.</summary>
internal sealed record MotionAnswerRequest : IPageRequest
{
    /// <summary>The number of what was asked.</summary>
    public int Id { get; set; }

    /// <summary>Whether it is allowed.</summary>
    public bool Allowed { get; set; }
}
