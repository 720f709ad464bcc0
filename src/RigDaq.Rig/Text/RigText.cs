namespace RigDaq.Rig.Text;

/// <summary>What a live rig says to people: every sentence of this room, so that it can be translated in one place. Figures come in SI.</summary>
internal static partial class RigText
{
    public static string PriorityRefused(string why) => $"this user may not raise the priority of a program ({why})";

    public static string LogLeftOut(string message, long count) => $"{message} ({count} more like this were left out.)";
}
