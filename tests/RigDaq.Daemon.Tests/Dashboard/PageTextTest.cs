using System.Net;
using System.Runtime.CompilerServices;
using System.Text;
using System.Text.RegularExpressions;
using RigDaq.App.Text;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Pulls;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;
using RigDaq.Tests.Shared;
using RigDaq.Text;
using RigDaq.Web.Pages;
using RigDaq.Web.Views;

namespace RigDaq.Daemon.Tests.Dashboard;

/// <summary>What the pages say stands in one file, so that it can be translated; pages and scripts only name it.</summary>
public sealed partial class PageTextTest
{
    private static readonly string[] NoTranslationNeeded = ["RigDaq", "MPa", "mm", "mm²", "mm/s", "UTF-8", "UTF-16", "Windows-1252", "GBK",
        "svg", "png"];

    [Fact]
    public void No_page_holds_a_word_of_its_own()
    {
        string[] found = [.. Sources("*.html").SelectMany(page => Said(page.Text).Select(words => $"{page.Name}: {words}"))];
        Assert.Empty(found);
    }

    [Fact]
    public void No_script_holds_a_sentence_of_its_own()
    {
        string[] found =
            [.. Sources("*.js")
            .SelectMany(script => script.Text.Split('\n').SelectMany(Literals).Where(IsSentence)
            .Select(words => $"{script.Name}: {words}"))];
        Assert.True(found.Length == 0, string.Join('\n', found));
    }

    [Fact]
    public void No_answer_and_no_fact_that_a_page_gets_holds_words_of_its_own() =>
        Assert.Empty(Code().SelectMany(code => OwnWords().Matches(code).Select(match => match.Value)));

    // Reasons that are kept with a revision are those of the terminal. What a browser is told in headers, states (above) and faults are no
    // texts.
    [Fact]
    public void No_row_of_words_stands_in_the_code_of_the_pages() => Assert.DoesNotContain(
        Code().SelectMany(code => code.Split('\n')).Where(line => SourceText.IsCode(line)
            && !line.Contains("=> \"", StringComparison.Ordinal) && !line.Contains("throw new", StringComparison.Ordinal))
            .SelectMany(SourceText.Literals),
        text => RowOfWords().IsMatch(text) && !Header().IsMatch(text));

    // The guards themselves: they would see what they are there to see.
    [Fact]
    public void The_guards_see_words()
    {
        Assert.NotEmpty(Said("<h1 id=\"x\">Runs</h1>"));
        Assert.NotEmpty(Said("<canvas aria-label=\"Force against time\"></canvas>"));
        Assert.Empty(Said("<h1 class=\"soft\">{{run.title}} <span data-unit=\"stress\">MPa</span></h1>"));
        Assert.Contains(Literals("say(`${n} specimens are left`);"), IsSentence);
        Assert.Contains(Literals("row('Peak force', x)"), IsSentence);
        Assert.Contains(Literals("text = late ? 'Stopped' : ''"), IsSentence);
        Assert.DoesNotContain(Literals("element('p', 'banner bad', x); // What it is for."), IsSentence);
    }

    [Fact]
    public void Every_text_is_used_and_every_text_that_is_used_is_there()
    {
        HashSet<string> known = [.. PageText.Table.Keys];
        HashSet<string> used = [.. Sources("*.html").SelectMany(page => Key().Matches(page.Text)).Select(match => match.Groups["key"].Value)
            .Concat(Sources("*.js").SelectMany(script => Word().Matches(script.Text)).Select(match => match.Groups["key"].Value))
            .Concat(AllCode().SelectMany(file => Said(file)))];

        static IEnumerable<string> Said(string code) => Asked().Matches(code).Select(match => match.Groups["key"].Value);
        Assert.Empty(used.Except(known));
        Assert.DoesNotContain(known.Except(used), key => !key.StartsWith("states.", StringComparison.Ordinal));
    }

    // Scripts decide by the names of states and show what stands for them; the last row is what the page's own views name.
    [Fact]
    public void Every_state_that_a_page_shows_has_its_word() => Assert.Equal(
        Enum.GetValues<SequenceStage>().Select(SequenceStages.Word)
            .Concat(Enum.GetValues<PullEnding>().Select(PullEndings.Word))
            .Concat(Enum.GetValues<GuidePhase>().Select(CalibrationView.Word))
            .Concat(["still", "stopping", "homing", "feeding", "moving", "waiting", "now", "pulled", "skipped"]).Distinct().Order(),
        PageText.Table.Keys.Where(key => key.StartsWith("states.", StringComparison.Ordinal)).Select(key => key[7..]).Order());

    [Fact]
    public void What_is_served_is_filled_in_and_encoded()
    {
        Assert.NotEmpty(PageFiles.Files);
        foreach (PageFiles.PageFile page in PageFiles.Files.Values.Where(file => file.Path.EndsWith(".html", StringComparison.Ordinal)))
        {
            string text = Encoding.UTF8.GetString(page.Bytes);
            Assert.DoesNotContain("{{", text, StringComparison.Ordinal);
            // Who has not logged in may not stop either.
            if (page.Path != PageFiles.LogInPage) Assert.Contains("<form class=\"stop\"", text, StringComparison.Ordinal);
        }

        var served = PageTemplates.Fill(new Dictionary<string, byte[]>
        {
            ["parts/head.html"] = "<meta>\n"u8.ToArray(),
            ["run.html"] = "{{> head}}<h1 title=\"{{run.title}}\">{{run.title}}</h1>"u8.ToArray(),
        }, new Dictionary<string, string> { ["run.title"] = "<b> & \"x\"" });
        Assert.Equal("<meta><h1 title=\"&lt;b&gt; &amp; &quot;x&quot;\">&lt;b&gt; &amp; &quot;x&quot;</h1>",
            Encoding.UTF8.GetString(served["run.html"]));
        Assert.Equal(["js/words.js", "run.html"], served.Keys.Order());
        Assert.Throws<InvalidDataException>(() => PageTemplates.Fill(
            new Dictionary<string, byte[]> { ["a.html"] = "{{run.none}}"u8.ToArray() }, new Dictionary<string, string>()));
    }

    [Fact]
    public void Pages_scripts_and_answers_speak_one_language()
    {
        Assert.Contains("<html lang=\"en\">", Served("run.html"), StringComparison.Ordinal);
        using (Language.Pseudo.Speak())
        {
            Assert.Contains("<html lang=\"qps-ploc\">", Served("run.html"), StringComparison.Ordinal);
            Assert.Contains(">[Wárñîñgs ~~]<", Served("run.html"), StringComparison.Ordinal);
            Assert.Contains("\"assumed\":\"[{name} (ássüméd) ~~]\"", Served(PageTemplates.Script), StringComparison.Ordinal);
            Assert.Equal("[Sávéd ás révîsîöñ 3: why. ~~~~~]", PageText.Of("answers.keptAsRevision", ("n", 3), ("reason", "why")));
        }

        Assert.Contains("\"assumed\":\"{name} (assumed)\"", Served(PageTemplates.Script), StringComparison.Ordinal);

        static string Served(string path) => WebUtility.HtmlDecode(Encoding.UTF8.GetString(PageFiles.Served(path).Span));
    }

    private static IEnumerable<string> Said(string page)
    {
        string filled = Filled().Replace(Comment().Replace(page, ""), "");
        return Spoken().Matches(filled).Select(match => match.Groups["text"].Value)
            .Concat(Tag().Replace(filled, "\n").Split('\n')).Select(text => text.Trim())
            .Where(text => Letters().IsMatch(text) && !NoTranslationNeeded.Contains(text) && !Figure().IsMatch(text));
    }

    private static IEnumerable<string> Literals(string line)
    {
        string code = LineComment().Replace(line, "");
        if (code.TrimStart().StartsWith("import ", StringComparison.Ordinal)) return [];
        for (Match hole = Hole().Match(code); hole.Success; hole = Hole().Match(code)) code = code.Remove(hole.Index, hole.Length);
        return Literal().Matches(code).Select(match => match.Groups["text"].Value);
    }

    // Class names and ids are small words; what people read begins with a capital, or is a row of words.
    private static bool IsSentence(string literal) => !NotForPeople().IsMatch(literal) && Sentence().IsMatch(literal);

    private static IEnumerable<(string Name, string Text)> Sources(string pattern) =>
        Directory.GetFiles(Root(), pattern, SearchOption.AllDirectories).Select(file => (Path.GetFileName(file), File.ReadAllText(file)));

    private static string Root([CallerFilePath] string here = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", "..", "..", "src", "RigDaq.Web", "wwwroot"));

    private static IEnumerable<string> Code() =>
        Directory.GetFiles(Path.Combine(Root(), ".."), "*.cs", SearchOption.AllDirectories)
            .Where(file => !file.Split(Path.DirectorySeparatorChar).Contains("obj")).Select(File.ReadAllText);

    // What the program itself says to a page as well.
    private static IEnumerable<string> AllCode() =>
        Code().Concat(Directory.GetFiles(Path.Combine(Root(), "..", "..", "RigDaq.App"), "*.cs", SearchOption.AllDirectories)
            .Select(File.ReadAllText));

    [GeneratedRegex("(?:PageText\\.(?:Of|Sentence)|Result\\.Ok|Refused|Refusal\\.Of)\\(\"(?<key>[a-z]+\\.[A-Za-z0-9]+)\"|(?:= |,\\s+)\"(?<key>answers\\.[A-Za-z0-9]+)\"")]
    private static partial Regex Asked();

    [GeneratedRegex("Sentence\\.Verbatim\\(\\$?\"[^\"]|[aA]dd\\(\\$?\"[^\"]{2}")]
    private static partial Regex OwnWords();

    [GeneratedRegex(@"\p{L}{2,} (?:\p{L}{2,}|$)")]
    private static partial Regex RowOfWords();

    [GeneratedRegex("-src '|frame-ancestors|^// Made")]
    private static partial Regex Header();

    [GeneratedRegex("<!--.*?-->|<!doctype[^>]*>", RegexOptions.Singleline)]
    private static partial Regex Comment();

    [GeneratedRegex(@"\{\{[^}]*\}\}|&\w+;")]
    private static partial Regex Filled();

    [GeneratedRegex("(?:aria-label|alt|title|placeholder)=\"(?<text>[^\"]*)\"")]
    private static partial Regex Spoken();

    [GeneratedRegex("<[^>]*>", RegexOptions.Singleline)]
    private static partial Regex Tag();

    [GeneratedRegex(@"\p{L}{2,}")]
    private static partial Regex Letters();

    [GeneratedRegex(@"^[\d.]+ mm/s$")]
    private static partial Regex Figure();

    [GeneratedRegex(@"(?<!:)//.*$|^\s*/?\*.*$")]
    private static partial Regex LineComment();

    [GeneratedRegex(@"\$\{[^{}]*\}")]
    private static partial Regex Hole();

    [GeneratedRegex("'(?<text>(?:[^'\\\\]|\\\\.)*)'|`(?<text>(?:[^`\\\\]|\\\\.)*)`")]
    private static partial Regex Literal();

    [GeneratedRegex(@"^\p{Lu}\p{Ll}+(?:\b|$)|\p{L}{2,}[,.:;]? \p{L}+[,.:;]? \p{L}+|\p{L}{2,}[.,] |\p{L}{3,} \p{L}{2,}[.?!]")]
    private static partial Regex Sentence();

    // Keys of the keyboard, what the browser wants, and states by which the daemon says where it is.
    [GeneratedRegex("^(?:waiting for specimen|taking up slack|reading the creep|waiting for the weights|Escape|Enter|Space|use strict|input, select.*|button, input.*|\\(prefers.*)$")]
    private static partial Regex NotForPeople();

    [GeneratedRegex(@"\{\{(?<key>[a-z]+\.[A-Za-z0-9]+)\}\}")]
    private static partial Regex Key();

    [GeneratedRegex(@"\bwords\.(?<key>(?:shared|dashboard|run|calibrate|sections|studies|curves|uncertainty|access|journal)\.[A-Za-z0-9]+)")]
    private static partial Regex Word();
}
