using System.Globalization;
using System.Net.Sockets;
using System.Text;

namespace RigDaq.Protocol.Tests.Firmware;

/// <summary>The little of the remote debugging protocol that lock step needs: a stop at an address, memory read and written while it
/// stands.</summary>
internal sealed class GdbLink(Socket socket)
{
    private readonly byte[] _buffer = new byte[4096];
    private string _heard = "";

    /// <summary>Sends a packet and gives the answer to it.</summary>
    public async Task<string> Ask(string packet)
    {
        int sum = packet.Sum(c => c) & 0xFF;
        await socket.SendAsync(Encoding.ASCII.GetBytes(string.Create(CultureInfo.InvariantCulture, $"${packet}#{sum:x2}")));
        using var limit = new CancellationTokenSource(TimeSpan.FromSeconds(20));
        while (true)
        {
            int from = _heard.IndexOf('$', StringComparison.Ordinal), to = from < 0 ? -1 : _heard.IndexOf('#', from);
            if (to >= 0 && _heard.Length >= to + 3)
            {
                string answer = _heard[(from + 1)..to];
                _heard = _heard[(to + 3)..];
                await socket.SendAsync("+"u8.ToArray());
                return answer;
            }

            int length = await socket.ReceiveAsync(_buffer, limit.Token);
            Assert.True(length > 0, "the simulator has ended");
            _heard += Encoding.ASCII.GetString(_buffer, 0, length);
        }
    }

    public async Task<int> ReadInt32(uint address)
    {
        byte[] bytes = Convert.FromHexString(await Ask(string.Create(CultureInfo.InvariantCulture, $"m{address:x},4")));
        return BitConverter.ToInt32(bytes);
    }

    public async Task Write(uint address, byte[] bytes) =>
        Assert.Equal("OK",
            await Ask(string.Create(CultureInfo.InvariantCulture, $"M{address:x},{bytes.Length:x}:{Convert.ToHexString(bytes)}")));
}
