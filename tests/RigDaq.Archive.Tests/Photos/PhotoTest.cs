using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive.Photos;
using RigDaq.Archive.Recovery;
using RigDaq.Core.Runs;
using RigDaq.Tests.Shared;

namespace RigDaq.Archive.Tests.Photos;

/// <summary>Photos are files beside the database: whatever keeps the data must keep them too.</summary>
public sealed class PhotoTest : IDisposable
{
    private static readonly byte[] Jpeg = TinyPicture.Jpeg(), Other = TinyPicture.Jpeg(9);

    private readonly TemporaryFolder _folder = new();
    private readonly KeptPhoto _photo;

    public PhotoTest()
    {
        using RigArchive archive = Open("data");
        archive.Studies.Save(Example.Study(), "made");
        Run run = Example.Store(archive, 1);
        _photo = archive.Photos.Keep(run.Head.RunId, 1, Jpeg);
        archive.Runs.Revise(RunCorrections.Look(run,
            new FractureLook { PhotoName = _photo.Name, PhotoSha256 = _photo.Sha256, At = Example.Start }, Example.Start), []);
    }

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_backup_holds_the_photos_and_a_copy_that_is_opened_shows_them()
    {
        using (RigArchive archive = Open("data"))
        {
            for (int again = 0; again < 2; again++) archive.Backup(_folder.In("copy"));
        }

        using RigArchive copy = Open("copy");
        Assert.Empty(copy.Verify());
        Assert.Equal(Jpeg, File.ReadAllBytes(copy.Photos.Find(_photo.Name)!));
    }

    [Fact]
    public void A_damaged_copy_is_put_right_and_a_good_one_is_not_replaced_by_a_damaged_photo()
    {
        using RigArchive archive = Open("data");
        archive.Backup(_folder.In("copy"));
        string copy = _folder.In("copy", "photos", _photo.Name);
        File.WriteAllBytes(copy, Other);
        archive.Backup(_folder.In("copy"));
        Assert.Equal(Jpeg, File.ReadAllBytes(copy));
        File.WriteAllBytes(archive.Photos.Find(_photo.Name)!, Other);
        archive.Backup(_folder.In("copy"));
        Assert.Equal(Jpeg, File.ReadAllBytes(copy));
        Assert.Contains("not the one that was kept", Assert.Single(archive.Verify()), StringComparison.Ordinal);
    }

    [Fact]
    public void A_rebuild_keeps_the_photos_and_tells_of_one_that_is_missing()
    {
        Assert.Empty(Rebuild().PhotoFaults);
        using (RigArchive archive = Open("data")) File.Delete(archive.Photos.Find(_photo.Name)!);
        string fault = Assert.Single(Rebuild().PhotoFaults);
        Assert.Contains(_photo.Name, fault, StringComparison.Ordinal);
        Assert.Contains("backup", fault, StringComparison.Ordinal);
    }

    [Fact]
    public void Only_a_jpeg_or_png_is_kept_and_a_name_never_leads_out_of_the_folder()
    {
        using RigArchive archive = Open("data");
        Assert.Throws<ArgumentException>(() => archive.Photos.Keep("run", 1, "text"u8.ToArray()));
        Assert.Throws<ArgumentException>(() => archive.Photos.Keep("run", 1, [.. Jpeg, .. new byte[PhotoStore.BytesMax]]));
        Assert.Null(archive.Photos.Find("../archive.json"));
        Assert.Null(archive.Photos.Find(""));
    }

    private RebuildReport Rebuild() =>
        RigArchive.Rebuild(_folder.In("data"), TimeProvider.System, NullLogger.Instance,
            (pull, _) => throw new InvalidOperationException("Every run is in the journal."));

    private RigArchive Open(string name) => new(_folder.In(name), TimeProvider.System, NullLogger.Instance);
}
