using RigDaq.Core.Comparisons;
using RigDaq.Core.Specimens;

namespace RigDaq.Core.Tests.Statistics.Earlier;

/// <summary>
/// A control over its sessions. The chart of individual values is that of the NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2,
/// with its example: ten flow rates, moving range 1.8778, centre 50.81, limits 45.8159 and 55.8041. Here a tenth of them are the logarithms
/// of ten sessions' strengths.
/// </summary>
public sealed class ControlHistoryTest
{
    private static readonly GroupKey Control = new("Kept", "fan off", 220);
    private static readonly double[] FlowRates = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];

    [Fact]
    public void The_first_ten_sessions_give_the_limits_by_which_later_ones_are_judged()
    {
        ControlHistory within = History([.. FlowRates, 55.7]), outside = History([.. FlowRates, 50, 55.9, 45.7]);
        Assert.Equal(5.081, Math.Log(within.CentreMegapascals), 5e-5);
        Assert.Equal(4.58159, Math.Log(within.LowerMegapascals!.Value), 5e-6);
        Assert.Equal(5.58041, Math.Log(within.UpperMegapascals!.Value), 5e-6);
        Assert.DoesNotContain(within.Points, point => point.Outside);

        // The limits stay those of the first ten, whatever comes.
        Assert.Equal((within.LowerMegapascals, within.UpperMegapascals), (outside.LowerMegapascals, outside.UpperMegapascals));
        Assert.Equal([false, true, true], outside.Points.Skip(10).Select(point => point.Outside));
        Assert.Contains("session 13", outside.Sentence, StringComparison.Ordinal);
        Assert.NotEqual(outside.Sentence, within.Sentence);

        // Against the mean of all sessions before it: the eleventh of those ten, on the logarithm.
        Assert.Equal(100 * (Math.Exp(5.57 - 5.081) - 1), within.Points[10].ChangePercent!.Value, 1e-9);
        Assert.Null(within.Points[0].ChangePercent);
    }

    [Fact]
    public void Ten_sessions_or_fewer_have_no_limits_and_another_control_is_no_session()
    {
        ControlHistory history = History(FlowRates);
        Assert.Null(history.UpperMegapascals);
        Assert.Contains("10", history.Sentence, StringComparison.Ordinal);
        Assert.Null(ControlHistory.Of(Control, [Session(50, 1) with { Control = new GroupKey("Other", "fan off", 220) }]));
        Assert.Equal(10,
            ControlHistory.Of(Control, [.. FlowRates.Select(Session).Reverse(), Session(50, 10) with { Control = null }])!.Points.Count);
    }

    [Fact]
    public void Sessions_stand_in_the_order_of_time_whatever_the_order_they_come_in() =>
        Assert.Equal(History(FlowRates).Points, ControlHistory.Of(Control, [.. FlowRates.Select(Session).Reverse()])!.Points);

    private static ControlHistory History(double[] values) => ControlHistory.Of(Control, values.Select(Session))!;

    /// <summary>Four specimens whose logarithms have this mean, over ten.</summary>
    private static EarlierResult Session(double value, int i)
    {
        DateTimeOffset at = new DateTimeOffset(2026, 1, 5, 20, 0, 0, TimeSpan.Zero).AddDays(7 * i);
        return new EarlierResult
        {
            StudyId = $"s{i + 1}",
            Name = $"session {i + 1}",
            TakenAt = at,
            Control = Control,
            Stretches =
            [
                new EarlierStretch
                {
                    Material = Control.Material, Condition = Control.Condition, Setting = Control.Setting, Print = "P1", From = at, To = at,
                    Megapascals = [.. new[] { -.05, -.02, .02, .05 }.Select(deviation => Math.Exp((value / 10) + deviation))],
                },
            ],
        };
    }
}
