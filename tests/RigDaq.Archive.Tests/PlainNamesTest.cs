using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Core;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive.Tests;

/// <summary>The last door of all ways that a study comes: what people wrote into it holds no control characters.</summary>
public sealed class PlainNamesTest : IDisposable
{
    private readonly TemporaryFolder _folder = new();
    private readonly RigArchive _archive;

    public PlainNamesTest() => _archive = new RigArchive(_folder.In("data"), TimeProvider.System, NullLogger.Instance);

    public void Dispose()
    {
        _archive.Dispose();
        _folder.Dispose();
    }

    public static TheoryData<string> Names
        => ["Name", "SettingName", "SettingUnit", "print", "material", "condition", "specimen", "plastic", "failure"];

    [Theory]
    [MemberData(nameof(Names))]
    public void A_control_character_in_a_name_is_refused_shown_and_nothing_is_kept(string where)
    {
        foreach (string odd in new[] { "\u001b[2J", "bell\a", "a\u0085b", "del\u007f", "nul\0" })
        {
            var fault = Assert.Throws<RefusalException>(() => _archive.Studies.Save(With(where, odd), "made"));
            Assert.Contains("\\u00", fault.Message, StringComparison.Ordinal);
            Assert.All(fault.Message, c => Assert.False(char.IsControl(c)));
        }

        if (where != "failure") Assert.Throws<RefusalException>(() => _archive.Studies.Save(With(where, "two\nlines"), "made"));
        Assert.Empty(_archive.Studies.All());
        Assert.Equal(0, _archive.LastEntry);
    }

    [Fact]
    public void A_reason_may_have_lines_and_no_escapes()
    {
        _archive.Studies.Save(Example.Study(), "made\nby hand");
        Assert.Throws<RefusalException>(() => _archive.Studies.Save(Example.Study(), "made\u001b[31m"));
        Assert.Throws<RefusalException>(() => _archive.Studies.Change(Example.Study().Id, study => study with { Name = "x\u0007" }, "x"));
        Assert.Throws<RefusalException>(() => _archive.Studies.Change(Example.Study().Id, study => study with { Name = "x" }, "x\u0007",
            _ => []));
        Assert.Single(_archive.Studies.Versions(Example.Study().Id));
    }

    [Fact]
    public void What_an_earlier_version_kept_stays_can_be_kept_again_and_can_be_mended()
    {
        Study before = Example.Study() with { Name = "bell\u0007" };
        _archive.Owner.Commit(_ => Archive.Records.Entries.Study(before, "made", Example.Start), []);
        _archive.Studies.Change(before.Id, study => study with { SettingUnit = "K" }, "unit");
        Assert.Equal("bell\u0007", _archive.Studies.Find(before.Id)!.Name);
        _archive.Studies.Change(before.Id, study => study with { Name = "bell" }, "mended");
        Assert.Equal("bell", _archive.Studies.Find(before.Id)!.Name);
    }

    private static Study With(string where, string odd)
    {
        Study study = Example.Study();
        Print first = study.Prints[0];
        return where switch
        {
            "Name" => study with { Name = odd },
            "SettingName" => study with { SettingName = odd },
            "SettingUnit" => study with { SettingUnit = odd },
            "print" => study with { Prints = [first with { Id = odd }, .. study.Prints.Skip(1)] },
            "material" => study with { Prints = [first with { Material = odd }, .. study.Prints.Skip(1)] },
            "condition" => study with { Prints = [first with { Condition = odd }, .. study.Prints.Skip(1)] },
            "specimen" => study with { Specimens = [new Specimen { Id = odd, PrintId = first.Id, Order = 99 }] },
            "plastic" => study with { Materials = [new MaterialRecord("Alder", odd)] },
            _ => study with { Prints = [first with { Stretches = [first.Stretches[0] with { Failure = new PrintFailure(odd, 1) }] }] },
        };
    }
}
