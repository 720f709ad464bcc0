using RigDaq.Core.Specimens;

namespace RigDaq.Web.Views;

/// <summary>The studies, newest first.</summary>
/// <param name="MayChange">Whether this page may choose and change.</param>
/// <param name="Studies">The newest of them.</param>
/// <param name="Older">How many more there are.</param>
internal sealed record StudiesView(bool MayChange, IReadOnlyList<StudyItem> Studies, int Older);

/// <summary>One study of the list.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Name">For people.</param>
/// <param name="CreatedAt">When it was made.</param>
/// <param name="Origin">Where it came from; null where it was made here.</param>
/// <param name="Planned">Its specimens.</param>
/// <param name="Pulled">Specimens that have a run.</param>
/// <param name="FrozenAt">When its plan was frozen; null while it is open.</param>
/// <param name="WorkedOn">Whether it is the one that is worked on.</param>
/// <param name="Chosen">Whether it is because a person said so.</param>
internal sealed record StudyItem(string Id, string Name, DateTimeOffset CreatedAt, StudyOrigin? Origin, int Planned, int Pulled,
    DateTimeOffset? FrozenAt, bool WorkedOn, bool Chosen);
