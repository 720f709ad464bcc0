using System.Text.Json;
using System.Text.Json.Nodes;
using RigDaq.Core.Quantities;

namespace RigDaq.Text.Tests;

/// <summary>A sentence that was kept says the same as before, in any units; whatever stands beside the words, they are what is
/// true.</summary>
public sealed class SentenceValueTest
{
    private static readonly Units Pounds = Units.Of("lbf", "psi", "in")!;
    private static readonly TextTable Core = new(typeof(Units).Assembly);

    private static readonly Sentence Said = Core.Sentence("classOfOneSeries", ("referenceNewtons", 49.05));

    [Fact]
    public void Is_kept_with_what_it_is_made_of()
    {
        string words = JsonSerializer.Deserialize<string>(JsonSerializer.Serialize(Said))!, value = SentenceValue.Of(Said)!.ToJsonString();
        Assert.Equal("""{"code":"Core.classOfOneSeries","with":{"referenceNewtons":49.05}}""", value);
        Sentence read = SentenceValue.Read(words, JsonNode.Parse(value));
        Assert.Equal((Said.Code, Said.AsKept(), Said.In(Pounds)), (read.Code, read.AsKept(), read.In(Pounds)));
        // 49.05 N / 4.4482216 = 11.027 lbf (NIST SP 811, appendix B.8).
        Assert.Contains("11.03 lbf", read.In(Pounds), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("null")]
    [InlineData("7")]
    [InlineData("[]")]
    [InlineData("{}")]
    [InlineData("""{"code":7}""")]
    [InlineData("""{"code":"classOfOneSeries"}""")]
    [InlineData("""{"code":"Core.noSuch","with":{"referenceNewtons":49.05}}""")]
    [InlineData("""{"code":"Nowhere.classOfOneSeries","with":{"referenceNewtons":49.05}}""")]
    [InlineData("""{"code":"../Core.classOfOneSeries","with":{"referenceNewtons":49.05}}""")]
    [InlineData("""{"code":"Core.classOfOneSeries"}""")]
    [InlineData("""{"code":"Core.classOfOneSeries","with":{"referenceNewtons":"much"}}""")]
    [InlineData("""{"code":"Core.classOfOneSeries","with":{"referenceNewtons":[1]}}""")]
    [InlineData("""{"code":"Core.classOfOneSeries","with":{"referenceNewtons":12}}""")]
    public void A_value_that_does_not_say_the_words_leaves_them_as_they_are(string value)
    {
        Sentence read = SentenceValue.Read(Said.AsKept(), JsonNode.Parse(value));
        Assert.Equal(("", Said.AsKept()), (read.Code, read.In(Pounds)));
    }

    [Fact]
    public void Every_kind_of_argument_comes_back()
    {
        foreach (object? each in (object?[])[null, "a", "", true, 3, 3L, 0.1, 1e-9, 210.0m, 'x', DateTimeOffset.UnixEpoch, Said,
            Sentence.None])
        {
            // "{what} on {at, number, yyyy-MM-dd HH:mm}: {why}"
            Sentence sentence = Core.Sentence("calibrationInvalidatedText", ("what", each), ("at", DateTimeOffset.UnixEpoch), ("why", "x"));
            Assert.Equal(sentence.Code,
                SentenceValue.Read(sentence.AsKept(), JsonNode.Parse(SentenceValue.Of(sentence)!.ToJsonString())).Code);
        }
    }

    [Fact]
    public void Words_that_are_nobodys_to_translate_have_no_value() => Assert.Null(SentenceValue.Of(Sentence.Verbatim("12 N")));
}
