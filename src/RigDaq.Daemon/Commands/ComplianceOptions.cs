using System.CommandLine;
using RigDaq.Core.Strength;
using RigDaq.Daemon.Input;

namespace RigDaq.Daemon.Commands;

/// <summary>What the compliance commands are told about the bar.</summary>
internal static class ComplianceOptions
{
    public static readonly Option<double?> Length = new("--bar-length-mm") { Description = "The bar's free length between the grips, in mm; with its section its own give is taken off." };
    public static readonly Option<double?> Section = new("--bar-section-mm2") { Description = "The bar's section, in mm²." };
    public static readonly Option<double> Modulus = new("--bar-modulus-GPa")
    {
        Description = "Its modulus, in GPa: steel 200 to 210, aluminium alloys about 70.",
        DefaultValueFactory = _ => StiffBar.SteelGigapascals,
    };

    public static readonly Option<string?> Remarks = new("--remarks") { Description = "Grips, bar and what else is worth knowing later.", HelpName = "TEXT" };

    /// <summary>The bar; null where neither length nor section is named.</summary>
    /// <exception cref="InputException">Only one is, or a figure is not above 0.</exception>
    public static StiffBar? Bar(ParseResult parsed)
    {
        (double? length, double? section) = (parsed.GetValue(Length), parsed.GetValue(Section));
        if (length is null && section is null) return null;
        if (length is null || section is null) throw new InputException($"{(length is null ? Length : Section).Name}: missing; length and section are both needed to take the bar's own give off.");
        var bar = new StiffBar(length.Value, section.Value, parsed.GetValue(Modulus));
        try
        {
            bar.Validate();
        }
        catch (ArgumentException refusal)
        {
            throw new InputException(refusal.Message, refusal);
        }

        return bar;
    }

    /// <summary>Measures, with what is refused said of a source.</summary>
    /// <exception cref="InputException">It cannot be measured from this.</exception>
    public static ComplianceFit Measure(string source, AnalysedTrace trace, StiffBar? bar)
    {
        try
        {
            return ComplianceFit.Of(trace, bar);
        }
        catch (ArgumentException refusal)
        {
            throw InputException.In(source, refusal.Message);
        }
    }
}
