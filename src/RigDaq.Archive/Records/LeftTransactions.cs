using System.Collections;
using System.Reflection;
using LiteDB;

namespace RigDaq.Archive.Records;

/// <summary>
/// Transactions that a failed database could not end. Their finalizer in LiteDB 5.0.21 does all the work of ending once more, on the
/// thread of the memory's tidying, where a fault ends the whole program, long after the last call (LiteDB issue 2828). So they are kept
/// from being finalized before a database is closed that failed; it needs no finalizer, since closing frees the files.
/// </summary>
internal static class LeftTransactions
{
    private const BindingFlags Inner = BindingFlags.Instance | BindingFlags.NonPublic | BindingFlags.Public;

    /// <summary>Keeps the transactions of a database from being finalized.</summary>
    /// <returns>How many there are; null where this version of LiteDB keeps them elsewhere.</returns>
    public static int? KeepFromFinalizing(LiteDatabase database)
    {
        object? monitor = Field(Field(database, "_engine"), "_monitor");
        if (monitor?.GetType().GetProperty("Transactions", Inner)?.GetValue(monitor) is not IEnumerable transactions) return null;
        int count = 0;
        foreach (object transaction in transactions)
        {
#pragma warning disable CA1816 // That it is not ours is the point.
            GC.SuppressFinalize(transaction);
#pragma warning restore CA1816
            count++;
        }

        return count;
    }

    private static object? Field(object? of, string name) => of?.GetType().GetField(name, Inner)?.GetValue(of);
}
