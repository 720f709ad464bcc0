using System.Text.Json;
using RigDaq.Daemon.Tests.Trace;
using RigDaq.Tests.Shared;

namespace RigDaq.Daemon.Tests.Study;

/// <summary>What is said of whole prints from the terminal: <c>study not-printed</c> and <c>study join-prints</c>.</summary>
[Collection(nameof(PrintedOutput))]
public class StudyPrintsCommandsTest : IDisposable
{
    private readonly string _folder = Path.Combine(Path.GetTempPath(), $"rigdaq-prints-{Guid.NewGuid():N}");

    public StudyPrintsCommandsTest() => Directory.CreateDirectory(_folder);

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task What_could_not_be_printed_is_kept_with_reason_tries_and_photo_and_taken_back()
    {
        await Make();
        await File.WriteAllBytesAsync(In("foam.jpg"), TinyPicture.Jpeg(), TestContext.Current.CancellationToken);
        JsonElement said = await Json("not-printed", "fan", "P02", "--setting", "240", "--reason", "foamed in the nozzle", "--tries", "3",
            "--photo", In("foam.jpg"));
        Assert.True(said.GetProperty("changed").GetBoolean());
        JsonElement stretch = Print(await Json("show", "fan"), "P02").GetProperty("stretches").EnumerateArray()
            .Single(s => s.GetProperty("setting").GetDecimal() == 240);
        JsonElement failure = stretch.GetProperty("failure");
        Assert.Equal(("foamed in the nozzle", 3), (failure.GetProperty("reason").GetString(), failure.GetProperty("tries").GetInt32()));
        Assert.Equal(JsonValueKind.String, failure.GetProperty("photoSha256").ValueKind);
        Assert.Equal(3 * 4 - 4 + 3 * 4, (await Json("show", "fan")).GetProperty("study").GetProperty("specimens").GetArrayLength());
        Assert.Contains("P02, Alder, fan off, 240 °C could not be printed (foamed in the nozzle; 3 tries)",
            (await Run("show", "fan")).Output, StringComparison.Ordinal);
        Assert.Contains("could not be printed (foamed in the nozzle; 3 tries)", (await Run("history", "fan")).Output,
            StringComparison.Ordinal);

        // Said again it is a correction of the reason, as on the page; the photo stays.
        await Json("not-printed", "fan", "P02", "--setting", "240", "--reason", "clogged", "--tries", "4");
        JsonElement again = Print(await Json("show", "fan"), "P02").GetProperty("stretches").EnumerateArray()
            .Single(s => s.GetProperty("setting").GetDecimal() == 240).GetProperty("failure");
        Assert.Equal(("clogged", failure.GetProperty("photoSha256").GetString()),
            (again.GetProperty("reason").GetString(), again.GetProperty("photoSha256").GetString()));

        await Json("not-printed", "fan", "P02", "--setting", "240", "--take-back", "5");
        JsonElement after = await Json("show", "fan");
        Assert.Equal(JsonValueKind.Null, Print(after, "P02").GetProperty("stretches").EnumerateArray()
            .Single(s => s.GetProperty("setting").GetDecimal() == 240).GetProperty("failure").ValueKind);
        Assert.Equal(3 * 4 + 2 * 4 + 5, after.GetProperty("study").GetProperty("specimens").GetArrayLength());
    }

    [Fact]
    public async Task Prints_entered_one_a_setting_become_one_with_a_stretch_at_each()
    {
        await Make("--separate-prints");
        JsonElement before = await Json("show", "fan");
        string[] on = [.. before.GetProperty("study").GetProperty("prints").EnumerateArray()
            .Where(p => p.GetProperty("condition").GetString() == "fan on").Select(p => p.GetProperty("id").GetString()!)];
        Assert.Equal(3, on.Length);
        JsonElement joined = await Json("join-prints", "fan", string.Join(',', on), "--reason", "one piece");
        Assert.Equal(on[0], joined.GetProperty("print").GetString());
        Assert.Equal([200m, 220m, 240m], joined.GetProperty("settings").EnumerateArray().Select(s => s.GetDecimal()));
        JsonElement after = await Json("show", "fan");
        Assert.Equal(4, after.GetProperty("study").GetProperty("prints").GetArrayLength());
        Assert.Equal(before.GetProperty("study").GetProperty("specimens").GetArrayLength(),
            after.GetProperty("study").GetProperty("specimens").GetArrayLength());
        Assert.Contains($"{string.Join(", ", on)} are one print: one piece", (await Run("history", "fan")).Output,
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_material_may_have_another_number_of_prints_than_the_rest()
    {
        await Make("--material", "Birch=PETG", "--prints-of", "Birch=3");
        JsonElement[] prints = [.. (await Json("show", "fan")).GetProperty("study").GetProperty("prints").EnumerateArray()];
        Assert.Equal([("Alder", 2), ("Birch", 6)], prints.GroupBy(p => p.GetProperty("material").GetString()!)
            .Select(g => (g.Key, g.Count())));
    }

    [Fact]
    public async Task A_plan_of_a_study_that_was_made_needs_only_the_scatters()
    {
        await Make("--material", "Birch=PETG", "--prints-of", "Birch=3", "--leave-out", "Alder, 240");
        JsonElement said = await Json("plan", "fan", "--within", "6", "--between", "3", "--stretch", "1.5");
        JsonElement typed = await Json("plan", "--within", "6", "--between", "3", "--stretch", "1.5", "--settings", "3", "--groups", "12",
            "--prints", "1", "--specimens", "4", "--comparisons", "5");
        Assert.Equal(typed.GetRawText(), said.GetRawText());
        Assert.NotEqual(said.GetRawText(),
            (await Json("plan", "fan", "--within", "6", "--between", "3", "--stretch", "1.5", "--prints", "3")).GetRawText());
        Assert.Equal(2, (await Run("plan", "none")).Status);
    }

    [Theory]
    [InlineData("Cedar", "Cedar=2")]
    [InlineData("Alder=many", "Alder=many")]
    [InlineData("at least one print", "Alder=0")]
    public async Task A_number_of_prints_that_cannot_be_is_refused(string message, string printsOf)
    {
        (int status, _, string said) = await Run("make", "fan", "--material", "Alder", "--condition", "fan on", "--prints-of", printsOf);
        Assert.Equal(2, status);
        Assert.Contains(message, said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_table_of_its_own_becomes_a_study_with_what_could_not_be_printed_counted_as_compare_counts_it()
    {
        string[] rows =
        [
            "material,condition,setting,strength_MPa,print,outcome,reason,tries",
            .. from condition in new[] { "fan on", "fan off" } from print in new[] { "A", "B" } from setting in new[] { 200, 220 }
                from piece in new[] { 0, 1, 2 }
               select FormattableString.Invariant($"Alder,{condition},{setting},{30 + setting % 7 + piece + (print == "A" ? 1 : 0)},{print},,,"),
            "Alder,fan on,240,,A,could not be printed,foamed in the nozzle,3",
            "Alder,fan off,240,,,could not be printed,layers parted,",
            "Alder,fan off,240,,,could not be printed,layers parted,",
        ];
        await File.WriteAllLinesAsync(In("old.csv"), rows, TestContext.Current.CancellationToken);
        JsonElement shown = await Json("import", "old", In("old.csv"), "--name", "Fan 2025", "--setting-unit", "°C");
        Assert.Equal((true, false), (shown.GetProperty("newStudy").GetBoolean(), shown.GetProperty("applied").GetBoolean()));
        Assert.Equal(2, (await Run("show", "old")).Status); // Nothing is kept by looking.
        Assert.True((await Json("import", "old", In("old.csv"), "--name", "Fan 2025", "--setting-unit", "°C", "--apply"))
            .GetProperty("applied").GetBoolean());
        JsonElement answer = (await Json("show", "old")).GetProperty("answer");
        Assert.Equal([("fan on", 3, 3), ("fan off", 2, 2)], NotPrintable(answer));
        Assert.Contains("foamed in the nozzle; 3 tries", (await Run("show", "old")).Output, StringComparison.Ordinal);

        (int status, string output, string said) = await CommandLine.RunAsync("compare", In("old.csv"), "--json");
        Assert.True(status == 0, said);
        Assert.Equal(NotPrintable(answer), NotPrintable(JsonDocument.Parse(output).RootElement));

        // Again, into what is there now: that would pool, and the preview says so instead of asking for --apply.
        string again = (await Run("import", "old", In("old.csv"))).Output;
        Assert.Contains("refused as it stands", again, StringComparison.Ordinal);
        Assert.DoesNotContain("--apply", again, StringComparison.Ordinal);

        await File.WriteAllLinesAsync(In("old.csv"), [rows[0], "Alder,fan on,240,,A,could not be printed,foamed,0"],
            TestContext.Current.CancellationToken);
        Assert.Contains("tries", (await Run("import", "another", In("old.csv"))).Said, StringComparison.Ordinal);

        static (string, int, int)[] NotPrintable(JsonElement answer)
            => [.. answer.GetProperty("answers").EnumerateArray().Where(a => a.GetProperty("question").GetString() == "not printable")
            .Select(a => (a.GetProperty("condition").GetString()!, a.GetProperty("count").GetInt32(), a.GetProperty("total").GetInt32()))];
    }

    [Theory]
    [InlineData("Say why it could not be printed", "not-printed", "fan", "P01", "--setting", "240")]
    [InlineData("has no print", "not-printed", "fan", "P09", "--setting", "240", "--reason", "foamed")]
    [InlineData("230", "not-printed", "fan", "P01", "--setting", "230", "--reason", "foamed")]
    [InlineData("240", "not-printed", "fan", "P01", "--setting", "240", "--take-back", "4")]
    [InlineData("two", "join-prints", "fan", "P01", "--reason", "one piece")]
    [InlineData("not of one material and condition", "join-prints", "fan", "P01,P02", "--reason", "one piece")]
    public async Task What_cannot_be_is_refused_and_nothing_is_kept(string message, params string[] arguments)
    {
        await Make();
        string before = (await Run("show", "fan", "--json")).Output;
        (int status, _, string said) = await Run(arguments);
        Assert.Equal(2, status);
        Assert.Contains(message, said, StringComparison.Ordinal);
        Assert.Equal(before, (await Run("show", "fan", "--json")).Output);
    }

    private async Task Make(params string[] more)
    {
        (int status, _, string said) =
            await Run(["make", "fan", "--material", "Alder=PLA", "--condition", "fan on", "--condition", "fan off", "--setting", "200",
            "--setting", "220", "--setting", "240",
            "--setting-name", "nozzle temperature", "--setting-unit", "°C", "--prints", "1", "--specimens", "4", .. more]);
        Assert.True(status == 0, said);
    }

    private static JsonElement Print(JsonElement show, string id)
        => show.GetProperty("study").GetProperty("prints").EnumerateArray().Single(p => p.GetProperty("id").GetString() == id);

    private async Task<JsonElement> Json(params string[] arguments)
    {
        (int status, string output, string said) = await Run([.. arguments, "--json"]);
        Assert.True(status == 0, said);
        return JsonDocument.Parse(output).RootElement;
    }

    private Task<(int Status, string Output, string Said)> Run(params string[] arguments)
        => CommandLine.RunAsync(["study", .. arguments, "--data", In("data")]);

    private string In(string name) => Path.Combine(_folder, name);
}
