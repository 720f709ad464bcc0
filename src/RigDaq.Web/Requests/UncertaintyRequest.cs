using System.Globalization;
using RigDaq.Core.Pulls;
using RigDaq.Core.Specimens;

namespace RigDaq.Web.Requests;

/// <summary>What a page asks of an uncertainty; what is null is taken from the run, the study or the configuration, unless the form itself was sent.</summary>
internal sealed record UncertaintyRequest
{
    /// <summary>A run whose calibration, force and section are taken; empty for the study that is worked on.</summary>
    public string Run { get; init; } = "";

    /// <summary>Whether the form was sent: then an empty field means that nothing is known.</summary>
    public bool Asked { get; init; }

    public double? ForceNewtons { get; init; }

    public double? WidthMillimetres { get; init; }

    public double? ThicknessMillimetres { get; init; }

    public double? StepMillimetres { get; init; }

    public double? CaliperErrorMillimetres { get; init; }

    public double? BendingPercent { get; init; }

    /// <summary>From a query string; null where a figure in it is none, or out of its range.</summary>
    internal static UncertaintyRequest? From(IQueryCollection query)
    {
        bool good = true;
        var ask = new UncertaintyRequest
        {
            Run = query["run"].ToString(),
            Asked = query["asked"] == "1",
            ForceNewtons = Number("force", ForceNewtonsMax, mayBeZero: false),
            WidthMillimetres = Number("width", LengthMillimetresMax, mayBeZero: false),
            ThicknessMillimetres = Number("thickness", LengthMillimetresMax, mayBeZero: false),
            StepMillimetres = Number("step", SectionMeasurement.CaliperErrorMillimetresMax, mayBeZero: true),
            CaliperErrorMillimetres = Number("error", SectionMeasurement.CaliperErrorMillimetresMax, mayBeZero: true),
            BendingPercent = Number("bending", BenchInputs.BendingPercentMax, mayBeZero: true),
        };
        return good ? ask : null;

        double? Number(string name, double most, bool mayBeZero)
        {
            string text = query[name].ToString();
            if (text.Length == 0) return null;
            bool holds = double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && value <= most && (mayBeZero ? value >= 0 : value > 0);
            good &= holds;
            return holds ? value : null;
        }
    }

    internal const double ForceNewtonsMax = 1_000_000;
    internal const double LengthMillimetresMax = 1_000;
}
