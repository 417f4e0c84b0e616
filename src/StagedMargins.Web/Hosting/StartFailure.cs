using System.Net.Sockets;
using Microsoft.AspNetCore.Connections;
using Microsoft.Data.Sqlite;
using Npgsql;
using StagedMargins.Web.Backup;

namespace StagedMargins.Web.Hosting;

/// <summary>A setting or a surrounding with which the service can't start.</summary>
/// <param name="message">What is wrong and what to do, in one line.</param>
public sealed class StartFailureException(string message) : Exception(message);

/// <summary>Says in one line why the service can't start.</summary>
public static class StartFailure
{
    /// <summary>The line for a fault of the surroundings, or null for a fault of the program.</summary>
    public static string? LineFor(Exception exception) => exception switch
    {
        StartFailureException or BackupException => exception.Message,
        OperationCanceledException => "Stopped before it finished; nothing was kept.",
        IOException { InnerException: AddressInUseException } => $"{exception.Message.TrimEnd('.')}: stop the other program, or choose another address with --urls http://localhost:PORT.",
        SocketException { SocketErrorCode: SocketError.AccessDenied } => "This address can't be opened here; choose another with --urls http://localhost:PORT.",
        FormatException { Source: "Microsoft.AspNetCore.Http" } or ArgumentOutOfRangeException { ParamName: "port" } => "Urls is not an address; write --urls http://localhost:PORT.",
        InvalidOperationException { Source: "Microsoft.AspNetCore.Server.Kestrel.Core" } => $"{exception.Message.Split('\n')[0].Trim()} Write --urls http://localhost:PORT.",
        UnauthorizedAccessException or IOException => $"The data folder can't be used: {exception.Message}",
        SqliteException e => $"The SQLite file can't be used: {e.Message} Check ConnectionStrings:Default and that its folder can be written.",
        PostgresException e => $"PostgreSQL refused: {e.MessageText} Check ConnectionStrings:Default.",
        NpgsqlException e => $"PostgreSQL does not answer: {e.InnerException?.Message ?? e.Message}. Check ConnectionStrings:Default.",
        ArgumentException { Source: "System.Data.Common" or "Npgsql" or "Microsoft.Data.Sqlite" } => "ConnectionStrings:Default is not a connection string of this database.",
        { InnerException: { } inner } => LineFor(inner),
        _ => null,
    };
}
