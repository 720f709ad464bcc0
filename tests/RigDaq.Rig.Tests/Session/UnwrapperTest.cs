using RigDaq.Rig.Session;

namespace RigDaq.Rig.Tests.Session;

public sealed class UnwrapperTest
{
    [Fact]
    public void Unwraps_stamps_that_go_back_a_little_and_that_wrap()
    {
        var unwrapper = default(Unwrapper);
        Assert.Equal(4_294_967_290, unwrapper.Next(4_294_967_290));
        Assert.Equal(4_294_967_300, unwrapper.Next(4));
        Assert.Equal(4_294_967_295, unwrapper.Next(4_294_967_295));
        Assert.Equal(4_294_967_310, unwrapper.Next(14));
    }
}
