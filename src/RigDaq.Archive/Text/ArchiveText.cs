namespace RigDaq.Archive.Text;

/// <summary>What the archive says to people: every sentence of this room, so that it can be translated in one place. Names of files, of keys and of columns are no words.</summary>
internal static partial class ArchiveText
{
}
