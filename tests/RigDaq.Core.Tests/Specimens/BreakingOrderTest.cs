using CsCheck;
using RigDaq.Core.Specimens;

namespace RigDaq.Core.Tests.Specimens;

public class BreakingOrderTest
{
    [Fact]
    public void Each_block_holds_one_specimen_of_every_stretch_that_has_one_left() =>
        Gen.Select(Gen.Int[1, 12].Array[1, 8], Gen.ULong).Sample((sizes, seed) =>
        {
            var prints = sizes.Select((n, i) => ($"P{i}", n)).ToArray();
            IReadOnlyList<BreakingPlace> order = BreakingOrder.Create(prints, seed);
            Assert.Equal(Enumerable.Range(1, sizes.Sum()), order.Select(p => p.Order));
            Assert.Equal(order.Select(p => p.Block).Order(), order.Select(p => p.Block));
            foreach (var (id, n) in prints) Assert.Equal(Enumerable.Range(1, n), order.Where(p => p.Stretch == id).Select(p => p.Piece)
                .Order());
            foreach (var block in order.GroupBy(p => p.Block)) Assert.Equal(sizes.Count(n => n >= block.Key),
                block.Select(p => p.Stretch).Distinct().Count());
        }, iter: 200);

    [Fact]
    public void The_same_seed_gives_the_same_order_for_ever()
    {
        // Recorded once; a change would break every stored plan.
        string order = string.Join(" ", BreakingOrder.Create([("A", 3), ("B", 2)], 42).Select(p => $"{p.Stretch}{p.Piece}"));
        Assert.Equal(RecordedOrder, order);
        Assert.NotEqual(order, string.Join(" ", BreakingOrder.Create([("A", 3), ("B", 2)], 44).Select(p => $"{p.Stretch}{p.Piece}")));
    }

    private const string RecordedOrder = "A2 B1 B2 A1 A3";

    [Fact]
    public void Every_place_in_a_block_is_as_likely_for_every_stretch()
    {
        int[] first = new int[4];
        for (ulong seed = 0; seed < 4000; seed++) first[BreakingOrder.Create([("0", 1), ("1", 1), ("2", 1), ("3", 1)], seed)[0].Stretch[0]
            - '0']++;

        // 1,000 expected each; four standard deviations are 110.
        Assert.All(first, count => Assert.InRange(count, 890, 1110));
    }
}
