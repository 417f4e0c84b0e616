using System.Net;
using System.Net.Sockets;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>
/// A port for a program that is started, ended and started again. It lies below those that Linux gives to connections
/// (32768 and up unless set otherwise), so that none takes it while the program is away.
/// </summary>
public static class FreePort
{
    private const int First = 20_000;
    private const int Last = 32_767;

    /// <summary>A port that nobody listens on.</summary>
    public static int Find()
    {
        while (true)
        {
            var port = Random.Shared.Next(First, Last + 1);
            try
            {
                using var listener = new TcpListener(IPAddress.Loopback, port);
                listener.Start();
                return port;
            }
            catch (SocketException e) when (e.SocketErrorCode == SocketError.AddressAlreadyInUse)
            {
                // Another one.
            }
        }
    }
}
