using System.Text.Json;
using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Core.Trace;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>Reads such an answer back.</summary>
internal static class ComplianceFile
{
    private const long BytesMax = 1 << 20;
    private const string PrintedBy = "rigdaq compliance fit --json";
    private const string Give = "complianceMillimetresPerNewton";
    private const string Uncertainty = "standardUncertaintyMillimetresPerNewton";

    /// <exception cref="InputException">The file is not such an answer.</exception>
    public static MachineCompliance Read(string file)
    {
        if (!File.Exists(file)) throw InputException.In(file, AppText.InputNoSuchFile);
        try
        {
            using JsonDocument document =
                JsonDocument.Parse(BoundedFile.ReadText(file, BytesMax, TerminalText.InputTooLongForAnswer(PrintedBy)));
            JsonElement root = document.RootElement;
            if (root.ValueKind != JsonValueKind.Object) throw InputException.In(file, TerminalText.InputAnswerExpected(PrintedBy));
            double give = Number(file, root, Give) ?? throw InputException.In(file, TerminalText.InputKeyAboveZero(Give));
            double uncertainty = Number(file, root, Uncertainty) ?? 0;
            if (!(give > 0)) throw InputException.In(file, TerminalText.InputKeyAboveZero(Give));
            if (uncertainty < 0) throw InputException.In(file, TerminalText.InputKeyZeroOrMore(Uncertainty));
            string? id = root.TryGetProperty("id", out JsonElement named) && named.ValueKind == JsonValueKind.String ? named.GetString()
                : null;
            return new MachineCompliance(give)
            { StandardUncertaintyMillimetresPerNewton = uncertainty, ToNewtons = Number(file, root, "toNewtons"), Id = id };
        }
        catch (JsonException fault)
        {
            throw new InputException(TerminalText.InputNotJson(file, (fault.LineNumber ?? 0) + 1, PrintedBy), fault);
        }
    }

    private static double? Number(string file, JsonElement root, string key)
    {
        if (!root.TryGetProperty(key, out JsonElement value) || value.ValueKind == JsonValueKind.Null) return null;
        return value.ValueKind == JsonValueKind.Number && value.TryGetDouble(out double number) && double.IsFinite(number) ? number
            : throw InputException.In(file, TerminalText.InputKeyNumber(key));
    }
}
