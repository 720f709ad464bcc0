using System.Globalization;
using RigDaq.Core.Specimens;

namespace RigDaq.App.Studies;

/// <summary>How people name a stretch of a print.</summary>
internal static class StretchName
{
    /// <summary>A stretch in words: "P02, 240 °C".</summary>
    public static string Of(Study? study, string print, decimal? setting) => setting is null ? print : string.Create(
        CultureInfo.InvariantCulture, $"{print}, {GroupKey.SettingText(setting, study?.SettingUnit ?? "")}");
}
