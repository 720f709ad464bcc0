using System.CommandLine;
using RigDaq.App.Input;
using RigDaq.Core;
using RigDaq.Core.Compliance;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>What the compliance commands are told about the bar.</summary>
internal static class ComplianceOptions
{
    public static readonly Option<double?> Length = new("--bar-length-mm") { Description = TerminalText.ComplianceBarLength };
    public static readonly Option<double?> Section = new("--bar-section-mm2") { Description = TerminalText.ComplianceBarSection };
    public static readonly Option<double> Modulus = new("--bar-modulus-GPa")
    {
        Description = TerminalText.ComplianceBarModulus,
        DefaultValueFactory = _ => StiffBar.SteelGigapascals,
    };

    public static readonly Option<string?> Remarks = new("--remarks") { Description = TerminalText.ComplianceRemarks, HelpName = "TEXT" };

    /// <summary>The bar; null where neither length nor section is named.</summary>
    /// <exception cref="RefusalException">Only one is, or a figure is not above 0.</exception>
    public static StiffBar? Bar(ParseResult parsed)
    {
        (double? length, double? section) = (parsed.GetValue(Length), parsed.GetValue(Section));
        if (length is null && section is null) return null;
        if (length is null || section is null)
            throw new InputException(TerminalText.ComplianceBarHalfSaid((length is null ? Length : Section).Name));
        var bar = new StiffBar(length.Value, section.Value, parsed.GetValue(Modulus));
        bar.Validate();
        return bar;
    }

    /// <summary>Measures, with what is refused said of a source.</summary>
    /// <exception cref="InputException">It cannot be measured from this.</exception>
    public static ComplianceFit Measure(string source, Func<ComplianceFit> measure)
    {
        try
        {
            return measure();
        }
        catch (RefusalException refusal)
        {
            throw InputException.In(source, refusal.Message);
        }
    }
}
