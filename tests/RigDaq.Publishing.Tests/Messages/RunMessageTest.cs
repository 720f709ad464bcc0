using System.Text.Json;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Publishing.Messages;
using RigDaq.Publishing.Tests.Support;
using RigDaq.Text;

namespace RigDaq.Publishing.Tests.Messages;

public sealed class RunMessageTest
{
    [Fact]
    public void A_run_goes_to_a_topic_of_its_own_and_is_not_retained()
    {
        OutboxMessage message = RunMessage.From(Samples.Run("abc"), Samples.Study()).ToOutbox();
        Assert.Equal("runs/abc", message.Topic);
        Assert.False(message.Retain);
    }

    [Fact]
    public void A_run_without_a_result_has_nulls_and_its_ending()
    {
        Run run = Samples.Run() with
        {
            Ending = PullEnding.Interrupted,
            Reason = Sentence.Verbatim("The link was lost."),
            Reading = null,
            Strength = null
        };
        JsonElement json = JsonDocument.Parse(RunMessage.From(run, Samples.Study()).ToOutbox().Payload).RootElement;
        Assert.Equal("interrupted", json.GetProperty("ending").GetString());
        Assert.Equal(JsonValueKind.Null, json.GetProperty("peakForceNewtons").ValueKind);
        Assert.Equal(JsonValueKind.Null, json.GetProperty("strengthMegapascals").ValueKind);
    }

    [Fact]
    public void What_is_not_finite_is_null()
    {
        Run run = Samples.Run() with { ZeroShiftNewtons = double.NaN };
        run = run with { Reading = run.Reading! with { PeakForceNewtons = double.PositiveInfinity } };
        RunMessage message = RunMessage.From(run, Samples.Study());
        Assert.Null(message.ZeroShiftNewtons);
        Assert.Null(message.PeakForceNewtons);
    }

    [Fact]
    public void A_specimen_that_no_study_names_is_published_with_a_warning()
    {
        RunMessage message = RunMessage.From(Samples.Run(), null);
        Assert.Null(message.Material);
        Assert.Contains("P1-03", message.Warnings[^1], StringComparison.Ordinal);
    }

    [Fact]
    public void A_void_is_published_in_words()
    {
        Run run = Samples.Run() with { Void = new RunVoid(VoidKind.GripFailure, "cracked in the lower grip", Samples.At), Revision = 1 };
        RunMessage message = RunMessage.From(run, Samples.Study());
        Assert.Equal("grip failure", message.Void?.Kind);
        Assert.Equal(1, message.Revision);
    }
}
