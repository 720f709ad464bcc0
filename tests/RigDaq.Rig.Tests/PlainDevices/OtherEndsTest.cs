using RigDaq.Core.Pulls;
using RigDaq.Core.Trace;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Control;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Tests.Support;

namespace RigDaq.Rig.Tests.PlainDevices;

// In wall time, beside the other pulls.
public sealed class OtherEndsTest
{
    [Fact]
    public async Task An_instrument_that_is_asked_says_who_it_is_and_breaks_a_specimen_in_newtons()
    {
        await using var device = new TextDevice
        {
            Prints = null,
            Answers = (question, newtons) => question switch
            {
                "*IDN?" => "Workshop,Bench meter,7,1.0\r\n",
                "READ?" => TextDevice.Scientific(newtons) + "\r\n",
                _ => null,
            },
        };
        var format = new LineFormat { Quantity = LineQuantity.Newtons };
        var query = new QueryFormat { Query = "READ?", Interval = TimeSpan.FromMilliseconds(20), SetUp = ["*RST", "CONF:FORC"] };
        await using RigBench bench = HandTurnedSequenceTest.Bench(device, new PlainDeviceSettings
        { Format = format, Query = query, Name = "unused" }, DeviceClaim.Curve(format)!);
        await bench.StartAsync(home: false);
        Assert.Equal("Workshop,Bench meter,7,1.0", bench.Controller.Snapshot.Device!.Name);
        Assert.Equal(["*RST", "CONF:FORC", "*IDN?", "READ?"], device.Received.Take(4));
        await HandTurnedSequenceTest.BeginAsync(bench, device, HandTurnedSequenceTest.Plan(1));
        await bench.UntilAsync(_ => bench.Recorder.Records.Count == 1, "recorded");
        PullRecord record = Assert.Single(bench.Recorder.Records);
        Assert.Equal(PullEnding.Broken, record.Ending);
        Assert.InRange(PullAnalysis.Read(record, DeviceClaim.Curve(format)!).Reading.RawPeakForceNewtons!.Value, 50, 61);
        Assert.True(record.Head.StampStandardUncertaintySeconds > 0);
    }

    [Fact]
    public async Task A_wrong_baud_rate_is_told_and_nothing_can_be_started()
    {
        var random = new Random(5);
        var garbage = new byte[30];
        await using var device = new TextDevice
        {
            Garbage = () =>
            {
                random.NextBytes(garbage);
                return garbage;
            },
        };
        await using RigBench bench = HandTurnedSequenceTest.Bench(device, new PlainDeviceSettings
        { Format = new LineFormat { Columns = 2, TimeColumn = 1, ForceColumn = 2 }, Name = "bench cell" });
        bench.Controller.Start();
        RigSnapshot told = await bench.UntilAsync(s => s.LinkNews.Words.Any(words => words.ToString().Contains("baud rate differs")),
            "told");
        Assert.Equal(LinkStage.Up, told.Link);
        Assert.False(told.Inputs.HasFlag(InputStates.ConverterAlive));
        Assert.Contains("no fresh readings", (await bench.Controller.StartSequenceAsync(HandTurnedSequenceTest.Plan(1))).Message);
    }

    [Fact]
    public async Task An_instrument_that_does_not_say_who_it_is_is_refused_with_what_to_do()
    {
        await using var device = new TextDevice { Prints = null };
        var query = new QueryFormat { Query = "READ?", AnswerMax = TimeSpan.FromMilliseconds(100) };
        await using RigBench bench = HandTurnedSequenceTest.Bench(device, new PlainDeviceSettings
        { Format = new LineFormat(), Query = query, Name = "unused" });
        bench.Controller.Start();
        await bench.UntilAsync(s => s.LinkMessage.Code == "instrumentSilent", "told");
    }
}
