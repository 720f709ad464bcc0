using System.Runtime.CompilerServices;
using RigDaq.Archive.Photos;
using RigDaq.Tests.Shared;

namespace RigDaq.Archive.Tests.Photos;

/// <summary>Whole pictures and pictures that were cut, the pages' own among them (PNG as a browser wrote it).</summary>
public sealed class PictureLookTest
{
    [Fact]
    public void A_picture_that_another_program_wrote_is_whole_and_cut_anywhere_it_is_not()
    {
        string[] pictures = Directory.GetFiles(Path.Combine(Root(), "docs", "pictures"), "*.png");
        Assert.NotEmpty(pictures);
        foreach (byte[] picture in pictures.Take(3).Select(File.ReadAllBytes))
        {
            Assert.True(PictureLook.IsWhole(picture));
            for (int part = 0; part < 40; part++) Assert.False(PictureLook.IsWhole(picture.AsSpan(0, picture.Length * part / 40)));
            Assert.False(PictureLook.IsWhole(picture.AsSpan(0, picture.Length - 12)));
        }
    }

    // Written by ImageMagick (libjpeg): 16 × 16 grey, quality 30.
    [Theory]
    [InlineData(Baseline)]
    [InlineData(Progressive)]
    public void A_jpeg_is_whole_and_cut_anywhere_it_is_not(string picture)
    {
        byte[] jpeg = Convert.FromBase64String(picture);
        Assert.True(PictureLook.IsWhole(jpeg));
        Assert.True(PictureLook.IsWhole([.. jpeg, .. "a short film"u8]));
        for (int length = 0; length < jpeg.Length; length++) Assert.False(PictureLook.IsWhole(jpeg.AsSpan(0, length)), $"{length}");
        Assert.True(PictureLook.IsWhole(TinyPicture.Jpeg()));
    }

    [Fact]
    public void A_size_of_nothing_is_no_picture()
    {
        byte[] jpeg = TinyPicture.Jpeg();
        (jpeg[9], jpeg[10]) = (0, 0);
        Assert.False(PictureLook.IsWhole(jpeg));
        Assert.False(PictureLook.IsWhole("\u0089PNG\r\n\u001a\n"u8));
    }

    private static string Root([CallerFilePath] string here = "")
        => Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", "..", ".."));

    private const string Baseline =
        "/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDABsSFBcUERsXFhceHBsgKEIrKCUlKFE6PTBCYFVlZF9VXVtqeJmBanGQc1tdhbWGkJ6jq62rZ4C8yb" +
        "qmx5moq6T/wAALCAAQABABAREA/8QAFgABAQEAAAAAAAAAAAAAAAAAAAUG/8QAFhAAAwAAAAAAAAAAAAAAAAAAABRh/9oACAEBAAA/AKj9D9Mu" +
        "/Q/T/9k=";

    private const string Progressive =
        "/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDABsSFBcUERsXFhceHBsgKEIrKCUlKFE6PTBCYFVlZF9VXVtqeJmBanGQc1tdhbWGkJ6jq62rZ4C8yb" +
        "qmx5moq6T/wgALCAAQABABAREA/8QAFgABAQEAAAAAAAAAAAAAAAAAAAQF/9oACAEBAAAAAamW/8QAFRABAQAAAAAAAAAAAAAAAAAAABL/2gAI" +
        "AQEAAQUCta1v/8QAFBABAAAAAAAAAAAAAAAAAAAAIP/aAAgBAQAGPwIf/8QAFBABAAAAAAAAAAAAAAAAAAAAIP/aAAgBAQABPyEf/9oACAEBAA" +
        "AAEA//xAAVEAEBAAAAAAAAAAAAAAAAAAAAcf/aAAgBAQABPxC1rW//2Q==";
}
