using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.PlainDevices;

/// <summary>Proposes a line format from the first lines that a device prints. A pure function. It never guesses a unit: where lines name
/// none, the numbers are taken as counts and have to be calibrated, which is what they need in any case.</summary>
public static class LineProposer
{
    /// <summary>The most lines that are looked at.</summary>
    public const int LinesMax = 200;

    private const string CommentMarks = "#%!*$>/;";

    private static readonly string[] ForceWords = ["force", "load", "newton", "weight", "mass", "gram", "counts", "raw", "adc", "value",
        "reading"];
    private static readonly string[] TimeWords = ["time", "millis", "micros", "stamp"];

    /// <summary>Looks at lines.</summary>
    /// <param name="lines">As they came, without their ends; the first may lack its beginning.</param>
    /// <param name="elapsed">How long the lines after the first took to come; null where that is not known. It tells the unit of a
    /// time.</param>
    public static LineProposal Propose(IReadOnlyList<string> lines, TimeSpan? elapsed = null)
    {
        List<string> all = [.. lines.Take(LinesMax).Where(line => !string.IsNullOrWhiteSpace(line))];
        if (all.Count == 0) return new LineProposal(null, [RigText.NoLineArrived], []);
        var reasons = new List<Sentence>();
        var doubts = new List<Sentence>();
        string comment = CommentPrefix(all, reasons);
        List<string> rest =
            [.. all.Where(line => comment.Length == 0 || !line.AsSpan().TrimStart().StartsWith(comment, StringComparison.Ordinal))];
        List<string> data = [.. rest.Where(line => line.Any(char.IsAsciiDigit))];
        List<string> words = [.. all.Except(data)];
        if (words.Count > 0 && rest.Count > data.Count)
            reasons.Add(RigText.LinesAreHeadings(rest.Count - data.Count, rest.First(l => !l.Any(char.IsAsciiDigit))));
        // The first may have lost its beginning; it is only needed where there is no other.
        if (data.Count > 2) data.RemoveAt(0);
        LineLayout layout = Layout(data, reasons, doubts);
        if (layout.Numbers.Count == 0 || layout.Share < 0.5)
        {
            reasons.Add(RigText.NothingInCommon(Shorten(all[^1])));
            return new LineProposal(null, reasons, doubts);
        }

        IReadOnlyList<string> headings = Headings(words, layout, comment);
        LineColumn? time = Time(layout, headings, reasons);
        if (Force(layout, time, headings, reasons, doubts) is not { } force)
        {
            reasons.Add(RigText.NoForceColumn);
            return new LineProposal(null, reasons, doubts);
        }

        LineQuantity quantity = Quantity(force, Heading(headings, force), reasons, doubts);
        var format = new LineFormat
        {
            // With one column it separates nothing: the plainest is proposed.
            Separator = layout.Columns > 1 ? layout.Separator : layout.DecimalComma ? ';' : ',',
            DecimalComma = layout.DecimalComma,
            Columns = layout.Columns,
            ForceColumn = force.Number,
            Quantity = quantity,
            CommentPrefix = comment.Length > 0 ? comment : "#",
            TimeColumn = time?.Number,
            TimeUnit = time is null ? LineTimeUnit.Milliseconds
                : TimeUnit(time, Heading(headings, time), elapsed, data.Count, reasons, doubts),
        };
        format = format with { CountsPerUnit = Resolution(format, force, reasons, doubts) };
        if (layout.Share < 0.9) doubts.Add(RigText.FewLinesFit(layout.Share));
        if (data.Count < 20) doubts.Add(RigText.RestsOnFew(data.Count));
        if (force.IsConstant && data.Count > 1) doubts.Add(RigText.NumberNeverChanged);
        return new LineProposal(format, reasons, doubts);
    }

    private static string CommentPrefix(List<string> lines, List<Sentence> reasons)
    {
        string? marked = lines.FirstOrDefault(line => CommentMarks.Contains(line.TrimStart()[0], StringComparison.Ordinal));
        if (marked is null) return "";
        string trimmed = marked.TrimStart();
        string prefix = trimmed.StartsWith("//", StringComparison.Ordinal) ? "//" : trimmed[..1];
        int count = lines.Count(line => line.TrimStart().StartsWith(prefix, StringComparison.Ordinal));
        if (count == lines.Count) return "";
        reasons.Add(RigText.LinesAreComments(count, prefix));
        return prefix;
    }

    private static LineLayout Layout(List<string> data, List<Sentence> reasons, List<Sentence> doubts)
    {
        LineLayout layout = LineLayout.Best(data);
        bool couldBeDecimals = layout is { Separator: ',', Columns: 2, Numbers.Count: 2 }
            && layout.Numbers.All(column => column.Decimals == 0 && !column.OnlyRises)
            && data.Select(line => line.Length - line.LastIndexOf(',')).Distinct().Count() == 1;
        if (couldBeDecimals)
        {
            layout = LineLayout.Of(data, null, decimalComma: true);
            reasons.Add(RigText.CommaIsDecimal);
            doubts.Add(RigText.CommaMaySeparate);
            return layout;
        }

        reasons.Add(layout.Columns > 1 ? RigText.ColumnsBetween(layout.Columns, LineUnits.Word(layout.Separator)) : RigText.OneColumn);
        if (layout.DecimalComma) reasons.Add(RigText.CommaBeforeDecimals);
        return layout;
    }

    private static IReadOnlyList<string> Headings(List<string> words, LineLayout layout, string comment)
    {
        foreach (string line in words)
        {
            string text = comment.Length > 0 && line.TrimStart().StartsWith(comment, StringComparison.Ordinal)
                ? line.TrimStart()[comment.Length..] : line;
            List<string> cells = LineCells.Of(text.Trim(), layout.Separator);
            if (cells.Count == layout.Columns
                && cells.Any(cell => ForceWords.Concat(TimeWords).Any(w => cell.Contains(w, StringComparison.OrdinalIgnoreCase))))
                return [.. cells.Select(cell => cell.Trim())];
        }

        return [];
    }

    private static string Heading(IReadOnlyList<string> headings, LineColumn column) => headings.Count >= column.Number
        ? headings[column.Number - 1] : "";

    private static LineColumn? Time(LineLayout layout, IReadOnlyList<string> headings, List<Sentence> reasons)
    {
        LineColumn? named = layout.Numbers.FirstOrDefault(column => column.OnlyRises && Names(Heading(headings, column), TimeWords));
        LineColumn? found = named ?? layout.Numbers.FirstOrDefault(column => column.OnlyRises && !column.CountsLines);
        // A single column that rises is a force that happens to rise.
        if (found is null || layout.Numbers.Count < 2)
        {
            reasons.Add(RigText.NoTimeColumn);
            return null;
        }

        reasons.Add(RigText.TimeColumnFound(found.Number));
        return found;
    }

    private static LineTimeUnit TimeUnit(LineColumn time, string heading, TimeSpan? elapsed, int lines, List<Sentence> reasons,
        List<Sentence> doubts)
    {
        string unit = time.Unit.Length > 0 ? time.Unit : InBrackets(heading);
        if (unit is "s" or "sec") return LineTimeUnit.Seconds;
        if (unit is "ms" || heading.Contains("millis", StringComparison.OrdinalIgnoreCase)) return LineTimeUnit.Milliseconds;
        if (unit is "us" or "µs" || heading.Contains("micros", StringComparison.OrdinalIgnoreCase)) return LineTimeUnit.Microseconds;
        double rise = time.Values[^1] - time.Values[0];
        if (elapsed is { TotalSeconds: > 0.2 } passed && lines > 4)
        {
            double perSecond = rise / passed.TotalSeconds;
            LineTimeUnit measured = perSecond < 30 ? LineTimeUnit.Seconds : perSecond < 30_000 ? LineTimeUnit.Milliseconds
                : LineTimeUnit.Microseconds;
            reasons.Add(RigText.TimeRisesPerSecond(perSecond, measured.Word()));
            return measured;
        }

        LineTimeUnit guessed = time.Decimals > 0 ? LineTimeUnit.Seconds : time.Step <= 2_000 ? LineTimeUnit.Milliseconds
            : LineTimeUnit.Microseconds;
        reasons.Add(RigText.TimeRisesPerLine(time.Step, guessed.Word()));
        doubts.Add(RigText.TimeUnitFromStep);
        return guessed;
    }

    private static LineColumn? Force(LineLayout layout, LineColumn? time, IReadOnlyList<string> headings, List<Sentence> reasons,
        List<Sentence> doubts)
    {
        List<LineColumn> left = [.. layout.Numbers.Where(column => column != time && !(column.CountsLines && layout.Numbers.Count > 1))];
        LineColumn? withUnit = left.FirstOrDefault(column => LineUnits.Known(column.Unit) is not null);
        LineColumn? named = left.FirstOrDefault(column => Names(Heading(headings, column), ForceWords));
        LineColumn? chosen = withUnit ?? named ?? left.FirstOrDefault(column => !column.IsConstant) ?? left.FirstOrDefault();
        if (chosen is null) return null;
        Sentence why = chosen == withUnit ? RigText.StandsBehind(chosen.Unit)
            : chosen == named ? RigText.HeadingIs(Heading(headings, chosen))
            : left.Count == 1 ? RigText.OnlyColumnLeft : RigText.FirstThatChanges;
        reasons.Add(RigText.ForceColumnFound(chosen.Number, why));
        if (left.Count > 1 && chosen != withUnit && chosen != named) doubts
            .Add(RigText.CouldAllBeForce(left.Select(c => (object)c.Number)));
        return chosen;
    }

    private static LineQuantity Quantity(LineColumn force, string heading, List<Sentence> reasons, List<Sentence> doubts)
    {
        string unit = force.Unit.Length > 0 ? force.Unit : InBrackets(heading);
        if (LineUnits.Known(unit) is { } known)
        {
            reasons.Add(RigText.UnitIs(unit));
            return known.Quantity;
        }

        if (unit.Length > 0) doubts.Add(RigText.UnitNotKnown(unit));
        reasons.Add(RigText.NoUnitNamed);
        return LineQuantity.Counts;
    }

    private static double? Resolution(LineFormat format, LineColumn force, List<Sentence> reasons, List<Sentence> doubts)
    {
        double wanted = Math.Max(format.CountsPerUnitInForce, Math.Pow(10, Math.Min(force.Decimals, 6)));
        double greatest = force.Values.Max(Math.Abs);
        // Room for a hundred times what was seen at rest, but the zero of raw counts may be anywhere: there it only has to fit.
        double room = format.Quantity == LineQuantity.Counts && force.Decimals == 0 ? 1 : 10;
        double resolution = wanted;
        while (resolution > 1e-6 && greatest * room * resolution > LineParser.CountsMax) resolution /= 10;
        if (resolution < wanted) doubts.Add(RigText.DigitsRoundedOff(greatest, resolution));
        if (resolution.Equals(format.CountsPerUnitInForce)) return null;
        reasons.Add(RigText.DecimalsKept(force.Decimals, resolution));
        return resolution;
    }

    private static bool Names(string heading, string[] words) =>
        words.Any(word => heading.Contains(word, StringComparison.OrdinalIgnoreCase));

    private static string InBrackets(string heading)
    {
        int from = heading.IndexOfAny(['(', '[', '_', '/']);
        return from < 0 ? "" : heading[(from + 1)..].Trim(' ', ')', ']');
    }

    private static string Shorten(string line) => line.Length > LineCutter.ShownMax ? line[..LineCutter.ShownMax] + "…" : line;
}
