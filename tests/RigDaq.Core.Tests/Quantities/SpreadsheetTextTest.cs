using RigDaq.Core.Quantities;

namespace RigDaq.Core.Tests.Quantities;

public sealed class SpreadsheetTextTest
{
    // The beginnings that OWASP's page on CSV injection names (from memory).
    [Theory]
    [InlineData("=cmd|' /C calc'!A0", "'=cmd|' /C calc'!A0")]
    [InlineData("@SUM(1+1)", "'@SUM(1+1)")]
    [InlineData("+1", "'+1")]
    [InlineData("-5 °C", "'-5 °C")]
    [InlineData("\tx", "'\tx")]
    [InlineData("'=1", "''=1")]
    [InlineData("'quoted'", "'quoted'")]
    [InlineData("fan off", "fan off")]
    [InlineData("", "")]
    public void What_a_spreadsheet_would_run_is_marked_and_every_text_comes_back(string text, string written)
    {
        Assert.Equal(written, SpreadsheetText.Guarded(text));
        Assert.Equal(text, SpreadsheetText.Unguarded(written));
    }
}
