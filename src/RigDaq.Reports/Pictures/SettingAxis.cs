using System.Globalization;
using RigDaq.Core.Specimens;

namespace RigDaq.Reports.Pictures;

/// <summary>Where the settings stand on the axis: at their own values, unless some lie so close together that their points would run into
/// each other; then evenly, and the axis says so.</summary>
internal sealed class SettingAxis
{
    private const double LeastGapShare = 0.08;
    private readonly Dictionary<decimal, double> _at = [];
    private readonly bool _even;

    private SettingAxis(decimal[] settings, bool hasNone)
    {
        double[] values = [.. settings.Select(setting => (double)setting)];
        double range = values.Length == 0 ? 0 : values[^1] - values[0];
        double gap = values.Length < 2 ? 1 : values.Zip(values.Skip(1), (a, b) => b - a).Min();
        _even = values.Length > 1 && gap < LeastGapShare * range;
        Step = _even || values.Length < 2 ? 1 : gap;
        for (int i = 0; i < settings.Length; i++) _at[settings[i]] = _even ? i : values[i];
        double first = settings.Length == 0 ? 0 : _at[settings[0]];
        double last = settings.Length == 0 ? 0 : _at[settings[^1]];
        None = settings.Length == 0 ? 0 : first - Step;
        // A single setting would have its points spread over the whole width.
        double edge = Step * (settings.Length + (hasNone ? 1 : 0) < 2 ? 1.3 : .6);
        Low = (hasNone ? None : first) - edge;
        High = last + edge;
        Positions =
        [
            .. hasNone ? [(null, None, "")] : Array.Empty<(decimal?, double, string)>(),
            .. settings.Select(setting => ((decimal?)setting, _at[setting], setting.ToString(CultureInfo.InvariantCulture))),
        ];
    }

    public static SettingAxis Of(IEnumerable<decimal?> settings)
    {
        decimal?[] all = [.. settings.Distinct()];
        return new SettingAxis([.. all.Where(setting => setting is not null).Select(setting => setting!.Value).Order()],
            all.Contains(null));
    }

    /// <summary>The axis of a study, one for all of its materials: whatever was cut, or could not be printed.</summary>
    public static SettingAxis Of(Study study, IEnumerable<decimal?> measured) =>
        Of(study.Prints
            .SelectMany(print => print.Stretches.Where(stretch => stretch.Failure is not null).Select(stretch => stretch.Setting))
            .Concat(measured));

    /// <summary>The least distance between two neighbours.</summary>
    public double Step { get; }

    public double Low { get; }

    public double High { get; }

    public IReadOnlyList<(decimal? Setting, double At, string Text)> Positions { get; }

    private double None { get; }

    public double At(decimal? setting) => setting is { } value ? _at[value] : None;

    public string Label(Study study)
    {
        if (_at.Count == 0) return "";
        return Text.ReportText.SettingAxis(study) + (_even ? Text.ReportText.EvenlySpaced : "");
    }
}
