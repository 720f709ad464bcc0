using PdfSharp.Drawing;

namespace RigDaq.Reports.Pdf;

/// <summary>The colours of a document; those of the page in light.</summary>
internal static class PdfInk
{
    public static readonly XBrush Plain = new XSolidBrush(XColor.FromArgb(0x1c, 0x1b, 0x1a));
    public static readonly XBrush Muted = new XSolidBrush(XColor.FromArgb(0x5f, 0x5b, 0x55));
    public static readonly XBrush Warning = new XSolidBrush(XColor.FromArgb(0x8a, 0x3b, 0x00));
    public static readonly XBrush WarningGround = new XSolidBrush(XColor.FromArgb(0xff, 0xf3, 0xe6));
    public static readonly XBrush Mark = new XSolidBrush(XColor.FromArgb(0x00, 0x72, 0xb2));
    public static readonly XPen Line = new(XColor.FromArgb(0xcf, 0xcb, 0xc4), 0.5);
    public static readonly XPen StrongLine = new(XColor.FromArgb(0x5f, 0x5b, 0x55), 0.6);
}
