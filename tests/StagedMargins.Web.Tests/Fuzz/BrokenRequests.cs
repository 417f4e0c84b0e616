using System.Net.Sockets;
using System.Text;

namespace StagedMargins.Web.Tests.Fuzz;

/// <summary>Requests that are no proper HTTP, or that break off, sent byte by byte as no client library would.</summary>
/// <param name="random">Chance.</param>
/// <param name="service">The service.</param>
/// <param name="token">A token that may write.</param>
public sealed class BrokenRequests(Random random, Uri service, string token)
{
    /// <summary>Sends one and gives the status that came back, or 0 where the connection was closed without one.</summary>
    public async Task<int> SendAsync(CancellationToken cancel)
    {
        using var client = new TcpClient();
        await client.ConnectAsync(service.Host, service.Port, cancel);
        await using var stream = client.GetStream();
        try
        {
            await stream.WriteAsync(Encoding.Latin1.GetBytes(Request()), cancel);
            client.Client.Shutdown(SocketShutdown.Send);
            var answer = new byte[64];
            var read = await stream.ReadAtLeastAsync(answer, 12, throwOnEndOfStream: false, cancel);
            return read < 12 ? 0 : int.Parse(Encoding.ASCII.GetString(answer, 9, 3), System.Globalization.CultureInfo.InvariantCulture);
        }
        catch (IOException)
        {
            return 0;
        }
    }

    private string Request()
    {
        const string Body = """{ "patientRef": "T-broken", "site": { "code": "C44.3" }, "tumour": { "morphology": "8070/3" }, "twelveOClock": "up" }""";
        var head = $"POST /api/cases HTTP/1.1\r\nHost: x\r\nAuthorization: Bearer {token}\r\nContent-Type: application/json\r\n";
        var length = Body.Length;
        return random.Next(12) switch
        {
            0 => $"{head}Content-Length: {length}\r\n\r\n{Body[..random.Next(length)]}",
            1 => $"{head}Content-Length: {length + random.Next(1, 5000)}\r\n\r\n{Body}",
            2 => $"{head}Transfer-Encoding: chunked\r\n\r\n{length:x}\r\n{Body}\r\n",
            3 => $"{head}Transfer-Encoding: chunked\r\n\r\nzz\r\n{Body}\r\n0\r\n\r\n",
            4 => $"{head}Transfer-Encoding: chunked\r\nContent-Length: 5\r\n\r\n{length:x}\r\n{Body[..(length / 2)]}",
            5 => $"{head}Content-Length: -1\r\n\r\n{Body}",
            6 => $"{head}Content-Length: 99999999999999999999\r\n\r\n{Body}",
            7 => $"{head}Idempotency-Key: a\u0000b\r\nContent-Length: {length}\r\n\r\n{Body}",
            8 => head[..random.Next(head.Length)],
            9 => $"POST /api/%00cases\u0001 HTTP/1.1\r\nHost: x\r\n\r\n",
            10 => $"GET http://elsewhere.invalid/api/cases HTTP/9.9\r\n\r\n",
            _ => $"{head}{string.Concat(Enumerable.Range(0, 150).Select(i => $"X-{i}: y\r\n"))}\r\n",
        };
    }
}
