using RigDaq.Core.Pulls;
using RigDaq.Core.Trace;
using RigDaq.Reports.Pictures;

namespace RigDaq.Reports.Tests.Pictures;

/// <summary>A trace with what was read from it, drawn.</summary>
public sealed class MarkedTraceTest
{
    [Fact]
    public void Draws_a_trace_of_which_nothing_was_read()
    {
        // Never in contact: there is nothing to mark, and so no legend.
        double[] times = [.. Enumerable.Range(0, 60).Select(i => i / 10.0)];
        AnalysedTrace trace = TraceAnalysis.Analyse(
            new ForceTrace { TimesSeconds = times, ForcesNewtons = [.. times.Select(time => Math.Sin(7.3 * time))] },
                new DetectionSettings());
        Assert.Equal(PullEnding.NoContact, trace.Reading.Ending);
        string svg = MarkedTracePicture.Of("rest", trace).ToSvg(PictureStyle.Page with { Titled = true });
        Assert.Contains("no contact", svg, StringComparison.Ordinal);
        Assert.Contains("time in s", svg, StringComparison.Ordinal);
        Assert.DoesNotContain("d=\"\"", svg, StringComparison.Ordinal);
    }
}
