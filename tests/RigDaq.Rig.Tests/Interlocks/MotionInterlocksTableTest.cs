using RigDaq.Rig.Interlocks;
using RigDaq.Text;

namespace RigDaq.Rig.Tests.Interlocks;

/// <summary>
/// The table of interlocks in docs/interlocks.md is made from the code: each interlock alone is broken, and each kind of undertaking is
/// asked. The page and the code are held equal, cell by cell.
/// </summary>
public sealed class MotionInterlocksTableTest
{
    /// <summary>Everything stands for motion.</summary>
    private static readonly InterlockFacts Good = GoodFacts.All;

    private static readonly (string Name, Func<InterlockFacts, InterlockFacts> Break)[] Rows =
    [
        ("the link is down", f => f with { LinkUp = false }),
        ("the device has not said what it is", f => f with { DeviceKnown = false }),
        ("the guard is open", f => f with { GuardClosed = false }),
        ("the emergency stop is pressed", f => f with { EmergencyStopReleased = false }),
        ("the converter is silent or stuck", f => f with { ConverterAlive = false }),
        ("a fault is latched", f => f with { FaultWords = [Sentence.Verbatim("a fault")] }),
        ("the limits are not confirmed", f => f with { LimitsConfirmed = false }),
        ("no calibration is in force", f => f with { CalibrationInForce = false, CalibrationCoversForceLimit = false }),
        ("no calibration is in force, accepted",
            f => f with { CalibrationInForce = false, CalibrationCoversForceLimit = false, AcceptedBeyondCalibration = true }),
        ("the calibration does not reach the force limit", f => f with { CalibrationCoversForceLimit = false }),
        ("the calibration does not reach the force limit, accepted",
            f => f with { CalibrationCoversForceLimit = false, AcceptedBeyondCalibration = true }),
        ("the check weight is outside", f => f with { CheckWeight = CheckWeightVerdict.Outside }),
        ("the check weight cannot be read", f => f with { CheckWeight = CheckWeightVerdict.Unread }),
        ("the cautions were not acknowledged", f => f with { CautionsAcknowledged = false }),
        ("the cautions were not acknowledged, virtual rig", f => f with { CautionsAcknowledged = false, Simulated = true }),
        ("the emergency stop was not tested today", f => f with { EmergencyStopTested = false }),
        ("the emergency stop was not tested today, virtual rig", f => f with { EmergencyStopTested = false, Simulated = true }),
        ("there is no motor", f => f with { CanMove = false }),
    ];

    private static readonly (string Name, Func<InterlockFacts, IReadOnlyList<Sentence>> Ask)[] Columns =
    [
        ("motion by hand", f => MotionInterlocks.ReasonsAgainst(MotionInterlocks.ForHandMotion(f))),
        ("starting or resuming a sequence", MotionInterlocks.ReasonsAgainstStarting),
        ("a motion of a sequence", MotionInterlocks.ReasonsAgainst),
        ("a pull turned by hand", f => MotionInterlocks.ReasonsAgainstPulling(f with { CanMove = false })),
    ];

    public static TheoryData<int, int> Cells
    {
        get
        {
            var cells = new TheoryData<int, int>();
            for (int row = 0; row < Rows.Length; row++)
            {
                for (int column = 0; column < Columns.Length; column++) cells.Add(row, column);
            }

            return cells;
        }
    }

    [Fact]
    public void With_everything_in_order_nothing_stands_against_anything() => Assert.All(Columns, column => Assert.Empty(column.Ask(Good)));

    [Fact]
    public void With_nothing_known_everything_is_refused()
        => Assert.All(Columns, column => Assert.NotEmpty(column.Ask(InterlockFacts.Nothing)));

    [Theory]
    [MemberData(nameof(Cells))]
    public void Each_cell_of_the_page_is_what_the_code_says(int row, int column)
    {
        string[] cells = [.. Table()[row].Split('|', StringSplitOptions.TrimEntries)];
        Assert.Equal(Rows[row].Name, cells[1]);
        Assert.Equal(Cell(row, column), cells[2 + column]);
    }

    [Fact]
    public void The_page_has_these_rows_and_columns_and_no_others()
    {
        Assert.Equal(Rows.Length, Table().Length);
        string header = File.ReadLines(PagePath()).First(line => line.StartsWith("| what is so |", StringComparison.Ordinal));
        Assert.Equal($"| what is so | {string.Join(" | ", Columns.Select(c => c.Name))} |", header);
    }

    [Fact]
    public void Every_fact_of_the_code_is_in_the_table()
    {
        // Every member that can be set is broken by some row, or is what a row names beside it.
        string[] elsewhere = [nameof(InterlockFacts.LinkMessage), nameof(InterlockFacts.Nothing)];
        foreach (var property in typeof(InterlockFacts).GetProperties().Where(p => p.CanWrite && !elsewhere.Contains(p.Name)))
            Assert.Contains(Rows, row => !Equals(property.GetValue(row.Break(Good)), property.GetValue(Good)));
    }

    [Fact]
    public void Whatever_is_broken_besides_a_reason_stays_a_reason()
    {
        // 2^n combinations of all rows that stand against a motion alone: none of them is ever let through by another.
        int[] against =
            [.. Enumerable.Range(0, Rows.Length).Where(row => MotionInterlocks.ReasonsAgainst(Rows[row].Break(Good)).Count > 0)];
        for (int mask = 1; mask < 1 << against.Length; mask++)
        {
            InterlockFacts facts = Good;
            for (int i = 0; i < against.Length; i++)
            {
                if ((mask & (1 << i)) != 0) facts = Rows[against[i]].Break(facts);
            }

            Assert.NotEmpty(MotionInterlocks.ReasonsAgainst(facts));
        }
    }

    private static string Cell(int row, int column) => Columns[column].Ask(Rows[row].Break(Good)).Count > 0 ? "no" : "yes";

    private static string[] Table() => [.. File.ReadLines(PagePath())
        .SkipWhile(line => !line.StartsWith("| what is so |", StringComparison.Ordinal)).Skip(2).TakeWhile(line => line.StartsWith('|'))];

    private static string PagePath()
    {
        string folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "RigDaq.sln"))) folder = Path.GetDirectoryName(folder)!;
        return Path.Combine(folder, "docs", "interlocks.md");
    }
}
