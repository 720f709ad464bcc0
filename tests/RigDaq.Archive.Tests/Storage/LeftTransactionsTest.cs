using LiteDB;
using RigDaq.Archive.Records;

namespace RigDaq.Archive.Tests.Storage;

/// <summary>LiteDB issue 2828: a transaction that is finalized can end the program. An update of the library that keeps transactions
/// elsewhere is noticed here.</summary>
public sealed class LeftTransactionsTest
{
    [Fact]
    public void A_transaction_that_is_open_is_found()
    {
        using var database = new LiteDatabase(new MemoryStream());
        Assert.Equal(0, LeftTransactions.KeepFromFinalizing(database));
        Assert.True(database.BeginTrans());
        database.GetCollection("rows").Insert(new BsonDocument());
        Assert.Equal(1, LeftTransactions.KeepFromFinalizing(database));
        Assert.True(database.Rollback());
    }
}
