using System.Text.Json;
using RigDaq.Archive.Storage;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Quantities;
using RigDaq.Core.Runs;
using RigDaq.Text;

namespace RigDaq.Archive.Tests.Storage;

/// <summary>What a stored run says it says in the units of who reads it later; one of before says its words.</summary>
public sealed class SentenceValuesTest
{
    private static readonly Units Pounds = Units.Of("lbf", "psi", "in")!;

    // The class's words have a force in them.
    private static readonly Sentence Said = new CalibrationClass(1, 20, 500).Sentence;

    [Fact]
    public void A_run_keeps_what_its_warnings_and_its_reason_are_made_of()
    {
        Run run = Example.Run(Example.Pull(Example.Head(1))) with
        { Reason = Said, Warnings = [Sentence.Verbatim("seen by hand, 3 mm"), Said] };
        string text = RecordText.Of(run);
        using JsonDocument json = JsonDocument.Parse(text);
        Assert.Equal(Said.AsKept(), json.RootElement.GetProperty("reason").GetString());
        Assert.Equal(Said.AsKept(), json.RootElement.GetProperty("warnings")[1].GetString());

        Run read = RecordText.Read<Run>(text);
        Assert.Equal(text, RecordText.Of(read));
        // 500 N / 4.4482216 = 112.4 lbf (NIST SP 811, appendix B.8).
        Assert.Contains("112.4 lbf", read.Reason.In(Pounds), StringComparison.Ordinal);
        Assert.Equal(["seen by hand, 3 mm", Said.In(Pounds)], read.Warnings.In(Pounds));
    }

    [Fact]
    public void A_run_of_before_has_its_words_alone_and_is_written_as_it_was()
    {
        string before = RecordText.Of(Example.Run(Example.Pull(Example.Head(1))) with { Warnings = [Sentence.Verbatim(Said.AsKept())] });
        Assert.DoesNotContain("Values", before, StringComparison.Ordinal);
        Run read = RecordText.Read<Run>(before);
        Assert.Equal([Said.AsKept()], read.Warnings.In(Pounds));
        Assert.Equal(before, RecordText.Of(read));
    }
}
