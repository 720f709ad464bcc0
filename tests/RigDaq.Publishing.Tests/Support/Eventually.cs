namespace RigDaq.Publishing.Tests.Support;

internal static class Eventually
{
    /// <summary>Sockets and other programs are real here, so the wait is in wall time; it is bounded and ends early.</summary>
    public static async Task TrueAsync(Func<bool> condition, string what, double seconds = 15)
    {
        using var late = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        late.CancelAfter(TimeSpan.FromSeconds(seconds));
        while (!condition())
        {
            try
            {
                await Task.Delay(10, late.Token); // sockets and other programs are real
            }
            catch (OperationCanceledException)
            {
                Assert.Fail($"Not within {seconds} s: {what}");
            }
        }
    }
}
